using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace ScoreLens.Reading.Model;

/// <summary>
/// Reads a weights file: the magic, the version and the length of the header (32 bits each, little-endian), a JSON header, then the numbers
/// of all arrays. What the file counts by position (features, modes, qualities) it names in its header, and the arrays are given in the
/// library's order, whatever the file's.
/// </summary>
internal sealed class WeightsFile
{
    private const int HeaderAt = 12;

    private readonly byte[] _data;
    private readonly int[] _featureOf;
    private readonly int[] _factorOf;

    private WeightsFile(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith(ModelFormat.Magic) || file.Length < HeaderAt) throw new InvalidDataException("Not a reading model.");
        var version = BinaryPrimitives.ReadInt32LittleEndian(file[4..]);
        if (version != ModelFormat.Version)
            throw new InvalidDataException($"The model has version {version} of its format; this library reads {ModelFormat.Version}.");
        var length = BinaryPrimitives.ReadInt32LittleEndian(file[8..]);
        if (length < 0 || length > file.Length - HeaderAt) throw new InvalidDataException("The reading model is cut off.");
        using var header = JsonDocument.Parse(file.Slice(HeaderAt, length).ToArray());
        _data = file[(HeaderAt + length)..].ToArray();
        var root = header.RootElement;
        Vocabulary = [.. root.GetProperty("vocabulary").EnumerateArray().Select(ModelFormat.ReadNumeral)];
        if (root.GetProperty("places").GetInt32() != SonorityFeatures.Places)
            throw new InvalidDataException("The reading model has planes of another width.");
        _featureOf = FeatureOrder(Strings("planes"), Strings("scalars"));
        _factorOf = FactorOrder(Strings("modes"), Strings("qualities"));
        Networks = [.. root.GetProperty("networks").EnumerateArray().Select(NetworkOf)];

        string[] Strings(string name) => [.. root.GetProperty(name).EnumerateArray().Select(e => e.GetString()!)];
    }

    /// <summary>The numerals that the networks have factors for, in the order of their output.</summary>
    public NumeralClass[] Vocabulary { get; }

    /// <summary>The networks of the committee.</summary>
    public IReadOnlyList<Network> Networks { get; }

    /// <summary>Reads a file.</summary>
    /// <exception cref="InvalidDataException">It is no weights file of this version, or speaks of what the library does not
    /// know.</exception>
    public static WeightsFile Parse(ReadOnlySpan<byte> file) => new(file);

    /// <summary>A matrix, with features and factors in the library's order.</summary>
    public WeightMatrix Matrix(Network network, string name)
    {
        var (rows, count, at) = network.Arrays[name];
        var numbers = MemoryMarshal.Cast<byte, sbyte>(_data.AsSpan(at + (2 * rows), count)).ToArray();
        var matrix = new WeightMatrix(numbers, Halves(_data.AsSpan(at), rows));
        return name switch
        {
            "first.weight" => WithFeatures(matrix),
            "last.weight" => matrix.WithOutputs(Factors(rows)),
            _ => matrix,
        };
    }

    /// <summary>The numbers of an array that is no matrix, with factors in the library's order.</summary>
    public float[] Vector(Network network, string name)
    {
        var (_, count, at) = network.Arrays[name];
        var values = Halves(_data.AsSpan(at), count);
        return name == "last.bias" ? [.. Factors(count).Select(from => values[from])] : values;
    }

    // For every feature of the file its place in a row of the library.
    private static int[] FeatureOrder(string[] planes, string[] scalars) =>
    [
        .. planes.Select(name => ModelFormat.Place(ModelFormat.Planes, name))
            .SelectMany(p => Enumerable.Range(p * SonorityFeatures.Places, SonorityFeatures.Places)),
        .. scalars.Select(name => (SonorityFeatures.Planes * SonorityFeatures.Places) + ModelFormat.Place(ModelFormat.Scalars, name)),
    ];

    // For the factors whose order an enumeration gives (modes of keys, qualities) their place in the library's output.
    private static int[] FactorOrder(string[] modes, string[] qualities)
    {
        if (modes.Length != ModelFormat.Modes.Count || qualities.Length != ModelFormat.Qualities.Count)
            throw new InvalidDataException("The reading model has other modes or qualities than this version.");
        const int Between = SonorityFeatures.Places;
        var qualityAt = NumeralVocabulary.FirstQuality;
        return
        [
            .. modes.Select(name => ModelFormat.Place(ModelFormat.Modes, name)).SelectMany(m => Enumerable.Range(m * Between, Between)),
            .. Enumerable.Range(modes.Length * Between, qualityAt - (modes.Length * Between)),
            .. qualities.Select(name => qualityAt + ModelFormat.Place(ModelFormat.Qualities, name)),
        ];
    }

    // A feature that the file does not name weighs nothing.
    private WeightMatrix WithFeatures(WeightMatrix matrix)
    {
        var ordered = new sbyte[matrix.Outputs * SonorityFeatures.Width];
        for (var o = 0; o < matrix.Outputs; o++) Order(matrix.Row(o), ordered.AsSpan(o * SonorityFeatures.Width));
        return matrix with { Numbers = ordered };
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Order(ReadOnlySpan<sbyte> row, Span<sbyte> ordered)
    {
        for (var i = 0; i < _featureOf.Length; i++) ordered[_featureOf[i]] = row[i];
    }

    // For every factor of the library its place in the file.
    private int[] Factors(int count)
    {
        int[] order = [.. Enumerable.Range(0, count)];
        for (var from = 0; from < Math.Min(count, _factorOf.Length); from++) order[_factorOf[from]] = from;
        return order;
    }

    private static float[] Halves(ReadOnlySpan<byte> data, int count)
    {
        var values = new float[count];
        for (var i = 0; i < count; i++) values[i] = (float)BinaryPrimitives.ReadHalfLittleEndian(data[(2 * i)..]);
        return values;
    }

    private static Network NetworkOf(JsonElement network)
    {
        var arrays = network.GetProperty("arrays").EnumerateArray().ToDictionary(
            a => a.GetProperty("name").GetString()!,
            a => new ArrayPlace(a.GetProperty("rows").GetInt32(), a.GetProperty("count").GetInt32(), a.GetProperty("at").GetInt32()));
        return new Network(new(Size("front"), Size("hidden"), Size("layers"), Size("beat_layers")), arrays);

        int Size(string name) => network.GetProperty(name).GetInt32();
    }

    /// <summary>A network: its sizes, and where each array lies.</summary>
    internal sealed record Network(RecurrentNetwork.Sizes Sizes, IReadOnlyDictionary<string, ArrayPlace> Arrays);

    /// <summary>Where an array lies among the numbers.</summary>
    /// <param name="Rows">Rows of a matrix; 0 for what has none.</param>
    /// <param name="Count">Numbers.</param>
    /// <param name="At">First byte behind the header.</param>
    internal readonly record struct ArrayPlace(int Rows, int Count, int At);
}
