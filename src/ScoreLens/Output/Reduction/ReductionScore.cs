using System.Text;
using System.Xml;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>Writes a harmonic reduction as a score to read and as a file to listen to.</summary>
public static class ReductionScore
{
    /// <summary>
    /// The reduction as MusicXML 4.0, uncompressed: two staves, chords cut at bar lines and tied, rests where no chord is read, with the
    /// labels that an annotated score has.
    /// </summary>
    /// <exception cref="ArgumentException">The options name a part.</exception>
    public static byte[] MusicXml(HarmonicReduction reduction, LabelOptions options)
    {
        ArgumentNullException.ThrowIfNull(reduction);
        ArgumentNullException.ThrowIfNull(options);
        if (options.Part.Length > 0) throw new ArgumentException("A reduction has one part; no other can be chosen.", nameof(options));
        return Labelled(reduction, options, "4.0").ToBytes();
    }

    /// <summary>The reduction with its labels as a document of some version of MusicXML.</summary>
    internal static MusicXmlDocument Labelled(HarmonicReduction reduction, LabelOptions options, string version)
    {
        var document = MusicXmlDocument.Parse(Bytes(reduction.ToScore(), version));
        var analysis = reduction.Analysis with { Score = MusicXmlReader.Read(document) };
        return ScoreLabels.Write(document, analysis.Score, AnalysisLabels.Of(analysis, options));
    }

    /// <summary>The reduction as a Standard MIDI File of type 1, at the tempos of the score, else 120 quarter notes a minute.</summary>
    public static byte[] Midi(HarmonicReduction reduction)
    {
        ArgumentNullException.ThrowIfNull(reduction);
        return MidiWriter.Write(reduction.ToScore());
    }

    /// <summary>A score of one part as MusicXML.</summary>
    /// <param name="score">The score.</param>
    /// <param name="version">Its version of MusicXML.</param>
    /// <param name="staves">One staff, or two.</param>
    /// <param name="symbols">What stands over the first staff.</param>
    internal static byte[] Bytes(
        Score score, string version, int staves = 2, IReadOnlyList<(Fraction Onset, Func<Fraction, XElement> Make)>? symbols = null)
    {
        var notes = score.Notes.ToLookup(n => score.MeasureAt(n.Onset).Index);
        var measures = score.Measures.Select(m => new WrittenMeasure(m, [.. notes[m.Index]], staves)).ToArray();
        var divisions = measures.SelectMany(m => m.Values).Select(v => v.Duration.Denominator)
            .Concat(score.Measures.Select(m => m.Length.Denominator)).Concat((symbols ?? []).Select(s =>
            s.Onset.Denominator)).Aggregate(1L, Fraction.LeastCommonMultiple);
        var part = new XElement("part", new XAttribute("id", score.Parts[0].Id));
        Measure? before = null;
        foreach (var measure in measures)
        {
            var over = symbols?.Where(s => s.Onset >= measure.Measure.Start && s.Onset < measure.Measure.End).ToList();
            part.Add(measure.ToXml(before, divisions, measure == measures[^1], over));
            before = measure.Measure;
        }

        var xml = new XDocument(
            new XDocumentType("score-partwise", "-//Recordare//DTD MusicXML 4.0 Partwise//EN", "http://www.musicxml.org/dtds/partwise.dtd",
                null),
            new XElement(
                "score-partwise",
                new XAttribute("version", version),
                new XElement("work", new XElement("work-title", score.Title)),
                new XElement("identification", new XElement("encoding", new XElement("software", "ScoreLens"))),
                new XElement(
                    "part-list",
                    new XElement("score-part", new XAttribute("id", score.Parts[0].Id), new XElement("part-name", score.Parts[0].Name))),
                part));
        using var stream = new MemoryStream();
        var settings = new XmlWriterSettings { Encoding = new UTF8Encoding(false), Indent = true, IndentChars = " ", NewLineChars = "\n" };
        using (var writer = XmlWriter.Create(stream, settings)) xml.Save(writer);
        return stream.ToArray();
    }
}
