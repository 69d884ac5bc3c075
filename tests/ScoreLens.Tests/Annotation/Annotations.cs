using System.IO.Compression;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Tests.Annotation;

/// <summary>What must hold of every annotated score, whatever it is annotated with.</summary>
internal static class Annotations
{
    /// <summary>Reads a score with the labels that the program wrote.</summary>
    public static ScoreReadOptions WithOwnLabels { get; } = new() { KeepsOwnLabels = true };

    /// <summary>What does not hold of a file; empty where all does.</summary>
    public static IEnumerable<string> Problems(byte[] input, params LabelOptions[] choices)
    {
        var source = MusicXmlDocument.Parse(input);
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(source));
        var isValid = MusicXmlSchema.Faults(source.Source).Count == 0;
        return choices.SelectMany(options => Problems(input, source, analysis, options, isValid));
    }

    private static IEnumerable<string> Problems(byte[] input, MusicXmlDocument source, CueAnalysis analysis, LabelOptions options,
        bool isValid)
    {
        var output = AnnotatedScore.Write(source, analysis, options);
        var annotated = MusicXmlDocument.Parse(output);
        if (annotated.IsCompressed != source.IsCompressed) yield return "is in another container";
        if (analysis.Chords.Any(c => c.Reading.Numeral is not null) && annotated.Source.AsSpan()
            .SequenceEqual(source.Source)) yield return "has no label";
        if (!AnnotatedScore.Write(annotated, analysis, options).AsSpan()
            .SequenceEqual(output)) yield return "changes when it is annotated again";

        if (!IsSame(MusicXmlReader.Read(annotated), analysis.Score)) yield return "is read otherwise with its labels than without";
        var stripped = MusicXmlDocument.Parse(AnnotatedScore.Strip(annotated));
        if (!stripped.Source.AsSpan().SequenceEqual(source.Source))
        {
            // An empty tag that had to take labels stays a pair of tags: the same document, other bytes.
            var same = XNode.DeepEquals(stripped.Xml, source.Xml);
            if (!same || !HasEmptyMeasure(source.Xml)) yield return same ? "has other bytes after strip"
                : "is another document after strip";
        }

        if (!Music(source.Xml).SequenceEqual(Music(annotated.Xml))) yield return "has other notes";
        if (source.IsCompressed && !Members(input, source.ScorePath).SequenceEqual(Members(output, source.ScorePath)))
            yield return "has other members in its package";
        if (!isValid) yield break;
        foreach (var fault in MusicXmlSchema.Faults(annotated.Source).Take(3)) yield return fault;
    }

    /// <summary>Everything of the notes but our labels: pitch, rest, duration, ties, voice, notations, the singer's lyrics.</summary>
    public static IEnumerable<string> Music(XDocument xml) =>
        from note in xml.Descendants()
        where note.Name.LocalName == "note" && !note.Ancestors().Any(a => a.Attribute("id")?.Value == "ScoreLens-reduction")
        select string.Concat(note.Elements().Where(e => e.Attribute("name")?.Value != "analysis")
            .Select(e => e.ToString(SaveOptions.DisableFormatting)));

    private static bool IsSame(Score annotated, Score plain) =>
        annotated.Notes.SequenceEqual(plain.Notes) && annotated.Rests.SequenceEqual(plain.Rests)
            && annotated.Texts.SequenceEqual(plain.Texts)
        && annotated.Measures.SequenceEqual(plain.Measures) && annotated.Parts.SequenceEqual(plain.Parts)
        && annotated.ChordSymbols.Select(Described).SequenceEqual(plain.ChordSymbols.Select(Described));

    private static string Described(ChordSymbol symbol) =>
        $"{symbol.Onset} {symbol.Part} {symbol.Root} {symbol.Kind} {symbol.Bass} {string.Join(' ', symbol.Tones)} {symbol.IsOwn}";

    private static bool HasEmptyMeasure(XDocument xml) =>
        xml.Descendants().Any(e => e.IsEmpty && (e.Name.LocalName == "measure"
            || (e.Name.LocalName == "part" && e.Parent!.Name.LocalName == "measure")));

    private static IEnumerable<(string Name, string Content)> Members(byte[] package, string score)
    {
        using var zip = new ZipArchive(new MemoryStream(package));
        foreach (var entry in zip.Entries)
        {
            using var content = new MemoryStream();
            using (var stream = entry.Open()) stream.CopyTo(content);
            yield return (entry.FullName, entry.FullName == score ? "" : Convert.ToBase64String(content.ToArray()));
        }
    }
}
