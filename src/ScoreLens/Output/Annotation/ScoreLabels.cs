using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Output.Annotation;

/// <summary>
/// Writes labels into a score's own document and takes them out again. Nothing else changes: the labels are put between the
/// characters of the original.
/// </summary>
internal static class ScoreLabels
{
    /// <summary>Writes a layer of labels; what the same layer wrote before is replaced.</summary>
    /// <param name="source">The document.</param>
    /// <param name="score">The score that was read from it, or from it without labels.</param>
    /// <param name="plan">What to write. A place outside the score is an error; a part too short for it gives the label to its
    /// neighbour.</param>
    /// <exception cref="ArgumentException">The score has other parts or measures than the document.</exception>
    public static MusicXmlDocument Write(MusicXmlDocument source, Score score, LabelPlan plan)
    {
        var bare = Strip(source, plan.Layer);
        var writer = new LayerWriter(bare, score, plan);
        writer.Write();
        return writer.Edits.IsEmpty ? bare : bare.WithSource(writer.Markup.Encode(writer.Edits.Apply()));
    }

    /// <summary>Takes out the labels of one layer, or of all.</summary>
    /// <param name="source">The document.</param>
    /// <param name="layer">The layer, or null for all.</param>
    public static MusicXmlDocument Strip(MusicXmlDocument source, string? layer = null)
    {
        if (!source.Mentions(OwnLabels.Owner) && !source.Mentions(NoteColouring.Target)) return source;
        // The reduction goes with the analysis that it belongs to, and all that stands in it.
        var parts = layer is null or AnnotatedScore.Layer ? OwnLabels.PartElements(source.Xml.Root!).ToHashSet() : [];
        XElement[] ours =
        [
            .. parts,
            .. source.Xml.Descendants().Where(e => OwnLabels.LayerOf(e) is { } l && (layer is null || l == layer)
                && !e.Ancestors().Any(parts.Contains)),
        ];
        var coloured = NoteColouring.Coloured(source.Xml, layer);
        if (ours.Length == 0 && coloured.Count == 0) return source;
        var markup = ScoreMarkup.Of(source);
        var edits = new MarkupEdits(markup);
        foreach (var element in ours) edits.Remove(element);
        foreach (var instruction in coloured) NoteColouring.Restore(instruction, markup, edits);
        return source.WithSource(markup.Encode(edits.Apply()));
    }
}
