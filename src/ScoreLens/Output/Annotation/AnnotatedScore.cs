using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Reduction;

namespace ScoreLens.Output.Annotation;

/// <summary>
/// Writes an analysis into the score that it was made of, as labels between the characters of the original, and takes the
/// labels out again.
/// </summary>
public static class AnnotatedScore
{
    /// <summary>The layer of an analysis's labels.</summary>
    internal const string Layer = "analysis";

    /// <summary>Writes the labels of an analysis; those of an earlier analysis are replaced.</summary>
    /// <param name="source">The document that the score was read from.</param>
    /// <param name="analysis">The analysis.</param>
    /// <param name="options">Which labels, as what, and where.</param>
    /// <returns>The bytes of a file of the same kind: XML, or a compressed package of which only the score has changed.</returns>
    /// <exception cref="ArgumentException">The score has no such part, or was not read from this document.</exception>
    public static byte[] Write(MusicXmlDocument source, CueAnalysis analysis, LabelOptions options) =>
        Labelled(source, analysis, options).ToBytes();

    /// <summary>The document with the labels of an analysis; those of an earlier analysis are replaced.</summary>
    /// <param name="source">The document that the score was read from.</param>
    /// <param name="analysis">The analysis.</param>
    /// <param name="options">Which labels, as what, and where.</param>
    /// <exception cref="ArgumentException">The score has no such part, or was not read from this document.</exception>
    public static MusicXmlDocument Labelled(MusicXmlDocument source, CueAnalysis analysis, LabelOptions options)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(options);
        return options.TakesReduction(analysis.Score) && ReductionPart.Write(source, analysis, options) is { } reduced ? reduced
            : ScoreLabels.Write(source, analysis.Score, AnalysisLabels.Of(analysis, options));
    }

    /// <summary>Takes out every label that ScoreLens wrote, and gives notes that it coloured their own colour back.</summary>
    /// <returns>The bytes of a file of the same kind; of XML those that it had before the first label was written.</returns>
    public static byte[] Strip(MusicXmlDocument source) => Unlabelled(source).ToBytes();

    /// <summary>
    /// The document without the labels that ScoreLens wrote: what an analysis should be made of, so that it does not read its
    /// own chord symbols. The same document where there are none.
    /// </summary>
    internal static MusicXmlDocument Unlabelled(MusicXmlDocument source)
    {
        ArgumentNullException.ThrowIfNull(source);
        return ScoreLabels.Strip(source);
    }
}
