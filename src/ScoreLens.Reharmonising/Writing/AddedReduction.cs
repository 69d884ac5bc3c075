using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Writing;

/// <summary>
/// Adds a harmonic reduction on two staves to a score as a part of its own, at the bottom: what is offered where the notes themselves are
/// to stay, or cannot take the new chord.
/// </summary>
public static class AddedReduction
{
    private const string Name = "Reduction";

    /// <summary>
    /// The document with the reduction of an analysis as its last part, chord symbols and numerals on it. Not a character of the other
    /// parts
    /// changes; labels of ours are taken out, since they name the old chords.
    /// </summary>
    /// <param name="source">The document that the score was read from.</param>
    /// <param name="analysis">The analysis, with the new chords in it (<see cref="OtherReading"/>).</param>
    /// <returns>The bytes of a file of the same kind.</returns>
    /// <exception cref="ArgumentException">The score was not read from this document.</exception>
    public static byte[] MusicXml(MusicXmlDocument source, CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(analysis);
        var plain = AnnotatedScore.Unlabelled(source);
        var markup = ScoreMarkup.Of(plain);
        var layout = plain.Layout;
        if (layout.MeasureCount != analysis.Score.Measures.Count)
            throw new ArgumentException("The score was not read from this document: measures differ.", nameof(analysis));
        var id = FreeId(layout.PartIds);
        var measures = Measures(HarmonicReduction.Of(analysis).ToScore());
        var edits = new MarkupEdits(markup);
        var list = MusicXmlNumbers.Child(layout.Root, "part-list")!;
        edits.InsertElements(list, list.Elements().LastOrDefault(),
            [new XElement("score-part", new XAttribute("id", id), new XElement("part-name", Name))]);
        if (layout.Root.Name.LocalName == "score-timewise")
        {
            foreach (var (cell, measure) in layout.Root.Elements().Where(e => e.Name.LocalName == "measure").Zip(measures))
                edits.InsertElements(cell, cell.Elements().LastOrDefault(),
                    [new XElement("part", new XAttribute("id", id), measure.Elements())]);
        }
        else
        {
            edits.InsertElements(layout.Root, layout.Root.Elements().LastOrDefault(),
                [new XElement("part", new XAttribute("id", id), measures)]);
        }

        var added = plain.WithSource(markup.Encode(edits.Apply()));
        var options = new LabelOptions { Part = string.Create(CultureInfo.InvariantCulture, $"{layout.PartIds.Count + 1}") };
        return AnnotatedScore.Write(added, analysis with { Score = MusicXmlReader.Read(added) }, options);
    }

    /// <summary>The reduction alone as a Standard MIDI File, to listen to.</summary>
    public static byte[] Midi(CueAnalysis analysis) => ReductionScore.Midi(HarmonicReduction.Of(analysis));

    private static XElement[] Measures(Score reduction)
    {
        var notes = reduction.Notes.ToLookup(n => reduction.MeasureAt(n.Onset).Index);
        var written = reduction.Measures.Select(m => new WrittenMeasure(m, [.. notes[m.Index]])).ToArray();
        var divisions = written.SelectMany(m => m.Values).Select(v => v.Duration.Denominator)
            .Concat(reduction.Measures.Select(m => m.Length.Denominator)).Aggregate(1L, Fraction.LeastCommonMultiple);
        return [.. written.Select((m, i) => m.ToXml(i == 0 ? null : written[i - 1].Measure, divisions, i == written.Length - 1))];
    }

    private static string FreeId(IReadOnlyList<string> taken)
    {
        for (var number = taken.Count + 1; ; number++)
        {
            var id = string.Create(CultureInfo.InvariantCulture, $"P{number}");
            if (!taken.Contains(id)) return id;
        }
    }
}
