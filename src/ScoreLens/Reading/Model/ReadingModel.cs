using System.Numerics.Tensors;
using ScoreLens.Sonorities;

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
        var weights = WeightsFile.Parse(file);
        Vocabulary = new NumeralVocabulary(weights.Vocabulary);
        OutputStride = (Vocabulary.Outputs + Block - 1) / Block * Block;
        _networks =
        [
            .. weights.Networks.Select(n => new RecurrentNetwork(
                n.Sizes, name => weights.Matrix(n, name), name => weights.Vector(n, name))),
        ];
    }

    /// <summary>The model that the library carries.</summary>
    public static ReadingModel Default => Embedded.Value;

    /// <summary>The numerals that it knows and where their factors stand.</summary>
    public NumeralVocabulary Vocabulary { get; }

    /// <summary>Length of a row of <see cref="Run"/>.</summary>
    public int OutputStride { get; }

    /// <summary>Reads a weights file.</summary>
    /// <exception cref="InvalidDataException">It is no weights file of this version.</exception>
    public static ReadingModel Parse(ReadOnlySpan<byte> file) => new(file);

    /// <summary>The factor scores of every vertical, in rows of <see cref="OutputStride"/>.</summary>
    /// <exception cref="OperationCanceledException">The run was given up.</exception>
    public float[] Run(SonorityFeatures.Row[] rows, IReadOnlyList<Sonority> sonorities, CancellationToken cancellationToken = default)
    {
        RecurrentNetwork.Moment[] moments =
        [
            .. sonorities.Select(s => new RecurrentNetwork.Moment(
                s.Onset.Floor(), Math.Clamp((float)s.Duration.ToDouble(), ShortestWeight, LongestWeight))),
        ];
        // In order, so that the figures do not depend on the number of cores: other scores have them.
        var output = new float[rows.Length * OutputStride];
        foreach (var network in _networks) network.AddTo(rows, moments, output, OutputStride, cancellationToken);
        TensorPrimitives.Divide(output, _networks.Length, output);
        return output;
    }

    private static ReadingModel LoadEmbedded()
    {
        using var stream = typeof(ReadingModel).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidDataException("The library was built without its reading model.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return new ReadingModel(bytes);
    }
}
