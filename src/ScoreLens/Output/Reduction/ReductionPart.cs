using System.Xml.Linq;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Reading.Written;

namespace ScoreLens.Output.Reduction;

/// <summary>
/// The harmonic reduction with the labels of an analysis as a part of our own at the bottom of a full score: two small staves at concert
/// pitch, on which all labels stand on one line, whatever the staves above do.
/// </summary>
internal static class ReductionPart
{
    // Of the size of the other staves, in per cent: as in a piano reduction under a score.
    private const int StaffSize = 75;

    /// <summary>Writes it into a document; null where the document has no list of parts to name it in.</summary>
    public static MusicXmlDocument? Write(MusicXmlDocument source, CueAnalysis analysis, LabelOptions options)
    {
        var bare = ScoreLabels.Strip(source, AnnotatedScore.Layer);
        var root = bare.Xml.Root!;
        if (MusicXmlNumbers.Child(root, "part-list") is not { } list || analysis.Score.Measures.Count == 0) return null;
        var version = Version.TryParse(root.Attribute("version")?.Value, out var v) ? v : new Version(1, 0);
        // The composer's own symbols stand over the score; a second set below would only compete with them.
        var labels = WrittenHarmony.FirstSymbol(analysis.Score) is null ? options.Labels : options.Labels & ~LabelKinds.Symbols;
        var part = Part(analysis, options with { On = LabelStaff.Automatic, Labels = labels }, version);
        var layout = bare.Layout;
        if (layout.PartIds.Count != analysis.Score.Parts.Count || layout.MeasureCount != analysis.Score.Measures.Count)
            throw new ArgumentException("The score was not read from this document: parts or measures differ.", nameof(analysis));
        CopyBarlines(layout, part);
        var markup = ScoreMarkup.Of(bare);
        var edits = new MarkupEdits(markup);
        edits.InsertElements(list, list.Elements().LastOrDefault(), [Entry(version)]);
        if (root.Name.LocalName == "score-timewise")
        {
            foreach (var (measure, own) in layout.MeasureElements.Zip(part.Elements()))
                edits.InsertElements(
                    measure, measure.Elements().LastOrDefault(), [new XElement("part", part.Attributes(), own.Elements())]);
        }
        else
        {
            edits.InsertElements(root, root.Elements().Last(), [part]);
        }

        return bare.WithSource(markup.Encode(edits.Apply()));
    }

    // What is printed is short, as room before the staves is scarce; documents before 2.0 do not have an element for it.
    private static XElement Entry(Version version)
    {
        var entry = new XElement("score-part", new XAttribute("id", OwnLabels.PartId), new XElement("part-name", OwnLabels.PartName));
        if (version >= new Version(2, 0)) entry.Add(new XElement("part-name-display", new XElement("display-text", "Reduction")));
        entry.Add(new XElement("part-abbreviation", "Red."));
        return entry;
    }

    private static XElement Part(CueAnalysis analysis, LabelOptions options, Version version)
    {
        var reduction = ReductionScore.Labelled(HarmonicReduction.Of(analysis), options, version.ToString());
        var part = new XElement(reduction.Xml.Root!.Element("part")!);
        part.SetAttributeValue("id", OwnLabels.PartId);
        foreach (var staff in (int[])[1, 2])
            part.Element("measure")!.Element("attributes")!.Add(new XElement(
                "staff-details", new XAttribute("number", staff), new XElement("staff-size", StaffSize)));
        return part;
    }

    // Programs draw one bar line through the system: ours are those of the top part. Endings and words are printed once, above it.
    private static void CopyBarlines(MusicXmlLayout layout, XElement part)
    {
        foreach (var (measure, index) in part.Elements("measure").Select((m, i) => (m, i)))
        {
            measure.Elements("barline").Remove();
            foreach (var placed in layout.Contents(0, index).Where(p => p.Element.Name.LocalName == "barline"))
            {
                var location = placed.Element.Attribute("location")?.Value ?? "right";
                var copy = new XElement("barline", new XAttribute("location", location));
                foreach (var name in (string[])["bar-style", "repeat"])
                    if (MusicXmlNumbers.Child(placed.Element, name) is { } child)
                        copy.Add(new XElement(name, child.Attributes(), child.Value.Trim() is { Length: > 0 } text ? text : null));
                if (!copy.HasElements || location == "middle") continue;
                if (location == "left") measure.AddFirst(copy);
                else measure.Add(copy);
            }
        }
    }
}
