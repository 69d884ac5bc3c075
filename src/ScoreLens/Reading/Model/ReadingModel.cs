using System.Buffers;
using System.Buffers.Binary;
using System.Numerics.Tensors;
using System.Runtime.InteropServices;
using System.Text.Json;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The learned model: the mean of a few networks' factor scores, and the numerals that they know. Immutable; safe to share.
/// </summary>
internal sealed class ReadingModel
{
    private const string Resource = "ScoreLens.Reading.Model.weights.bin";
    private const int Block = 16;

    // A vertical weighs in its beat as long as it lasts, in quarter notes, within these bounds.
    private const float ShortestWeight = 0.03f;
    private const float LongestWeight = 8;

    private static readonly Lazy<ReadingModel> Embedded = new(LoadEmbedded);

    private readonly RecurrentNetwork[] _networks;

    private ReadingModel(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith("SLRM"u8)) throw new InvalidDataException("Not a reading model.");
        var length = BinaryPrimitives.ReadInt32LittleEndian(file[4..]);
        using var header = JsonDocument.Parse(file.Slice(8, length).ToArray());
        var data = file[(8 + length)..].ToArray();
        Vocabulary = new NumeralVocabulary([.. header.RootElement.GetProperty("vocabulary").EnumerateArray().Select(ReadClass)]);
        OutputStride = (Vocabulary.Outputs + Block - 1) / Block * Block;
        _networks = [.. header.RootElement.GetProperty("networks").EnumerateArray().Select(n => ReadNetwork(n, data))];
    }

    /// <summary>The model that the library carries.</summary>
    public static ReadingModel Default => Embedded.Value;

    /// <summary>The numerals that it knows and where their factors stand.</summary>
    public NumeralVocabulary Vocabulary { get; }

    /// <summary>Length of a row of <see cref="Run"/>.</summary>
    public int OutputStride { get; }

    /// <summary>Reads a weights file.</summary>
    public static ReadingModel Parse(ReadOnlySpan<byte> file) => new(file);

    /// <summary>The factor scores of every vertical, in rows of <see cref="OutputStride"/>.</summary>
    public float[] Run(SonorityFeatures.Row[] rows, IReadOnlyList<Sonority> sonorities)
    {
        RecurrentNetwork.Moment[] moments =
        [
            .. sonorities.Select(s => new RecurrentNetwork.Moment(
                s.Onset.Floor(), Math.Clamp((float)s.Duration.ToDouble(), ShortestWeight, LongestWeight))),
        ];
        // Each network on a core of its own; they are summed in order, so that the figures do not depend on which ends first.
        var length = rows.Length * OutputStride;
        var outputs = new float[_networks.Length][];
        Parallel.For(0, _networks.Length, n =>
        {
            outputs[n] = ArrayPool<float>.Shared.Rent(length);
            outputs[n].AsSpan(0, length).Clear();
            _networks[n].AddTo(rows, moments, outputs[n], OutputStride);
        });
        var output = new float[length];
        foreach (var own in outputs)
        {
            TensorPrimitives.Add(output, own.AsSpan(0, length), output);
            ArrayPool<float>.Shared.Return(own);
        }

        TensorPrimitives.Divide(output, outputs.Length, output);
        return output;
    }

    private RecurrentNetwork ReadNetwork(JsonElement network, byte[] data)
    {
        var arrays = network.GetProperty("arrays").EnumerateArray().ToDictionary(
            a => a.GetProperty("name").GetString()!,
            a => (Rows: a.GetProperty("rows").GetInt32(), Count: a.GetProperty("count").GetInt32(), At: a.GetProperty("at").GetInt32()));
        return new RecurrentNetwork(new(Size("front"), Size("hidden"), Size("layers"), Size("beat_layers")), Vocabulary.Outputs, Read);

        int Size(string name) => network.GetProperty(name).GetInt32();

        // A matrix has a scale for each of its rows, then a byte for each of its numbers; what has no rows is in half precision.
        float[] Read(string name)
        {
            var (rows, count, at) = arrays[name];
            var scales = Halves(data.AsSpan(at), rows == 0 ? count : rows);
            if (rows == 0) return scales;
            var values = new float[count];
            var numbers = MemoryMarshal.Cast<byte, sbyte>(data.AsSpan(at + (2 * rows), count));
            for (var i = 0; i < count; i++) values[i] = numbers[i] * scales[i / (count / rows)];
            return values;
        }
    }

    private static float[] Halves(ReadOnlySpan<byte> data, int count)
    {
        var values = new float[count];
        for (var i = 0; i < count; i++) values[i] = (float)BinaryPrimitives.ReadHalfLittleEndian(data[(2 * i)..]);
        return values;
    }

    private static NumeralClass ReadClass(JsonElement e) => new(
        (Mode)e[0].GetInt32(),
        e[1].GetInt32(),
        e[2].ValueKind == JsonValueKind.Null ? null : e[2].GetInt32(),
        (ChordQuality)e[3].GetInt32(),
        e[4].GetInt32());

    private static ReadingModel LoadEmbedded()
    {
        using var stream = typeof(ReadingModel).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidDataException("The library was built without its reading model.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return new ReadingModel(bytes);
    }
}
