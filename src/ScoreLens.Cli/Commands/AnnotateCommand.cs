using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Pages;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Commands;

/// <summary>The main job: annotated score, tables and page of every score.</summary>
internal static class AnnotateCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var json = new Option<bool>("--json") { Description = "Write NAME.json too: both tables in one document." };
        var band = BandOption.Create();
        var sure = SureOption.Create();
        var keys = KeysOption.Create();
        var labels = LabelListOption.Labels();
        var forms = LabelListOption.Forms();
        var part = new Option<string?>("--part") { Description = "The part that takes the labels: its name, identifier or number from the top.", HelpName = "PART" };
        var strip = new Option<bool>("--strip") { Description = "Take the labels out again: writes NAME.stripped.musicxml and nothing else." };
        var command = new DocumentedCommand(
            "annotate",
            "Finds chords, keys, Roman numerals and chromatic devices, and writes the annotated score, the tables and the page.",
            "annotate testdata/lamplight.musicxml --out results",
            "annotate cues --out results --json --band 15-25 --labels numerals,devices",
            "annotate results/lamplight.annotated.musicxml --strip --out plain");
        scores.AddTo(command);
        foreach (var option in (Option[])[json, band, sure, keys, labels, forms, part, strip]) command.Add(option);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var options = LabelOptions.Parse(parse.GetValue(labels), parse.GetValue(forms), parse.GetValue(part));
            session.ForEach(
                input => parse.GetValue(strip) ? Strip(session, input)
                    : Annotate(session, input, options, parse.GetValue(band), parse.GetValue(sure), parse.GetValue(keys), parse.GetValue(json)),
                summary =>
                {
                    if (!session.IsQuiet) session.Output.WriteLine(summary);
                });
            return session.Status;
        });
        return command;
    }

    private static string Annotate(
        Session session, ScoreInput input, LabelOptions options, Band band, double sure, KeyRule keys, bool json)
    {
        var file = session.Load(input);
        var analysis = CueAnalysis.Of(file.Score, keys).AtLeast(sure);
        var density = CueDensity.Of(analysis, band);
        using var results = session.ResultsIn(input.Folder);
        string? annotated = null;
        if (file.MusicXml is { } document)
        {
            var bytes = Labelled(document, analysis, options);
            results.Add($"{input.Name}.annotated.{Ending(document)}", bytes);
            annotated = MusicXmlDocument.Parse(bytes).Xml.ToString(System.Xml.Linq.SaveOptions.DisableFormatting);
        }

        results.Add($"{input.Name}.chords.csv", writer => ChordTable.Write(ChordRow.Of(analysis), writer));
        results.Add($"{input.Name}.phrases.csv", writer => PhraseTable.Write(PhraseRow.Of(analysis, density), writer));
        results.Add($"{input.Name}.page.html", CuePage.Write(analysis, density, annotated));
        if (json) results.Add($"{input.Name}.json", AnalysisJson.Write(analysis, density));
        results.Commit();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{input.Path}: {analysis.Reading.HomeKey}, {Count(density.Whole.Chords, "chord")} in {Count(analysis.Phrases.Count, "phrase")}, "
            + $"{ShareText.PercentInColumn(density.Whole.OutsideTime)} of the time outside the key -> {input.Folder}");
    }

    private static byte[] Labelled(MusicXmlDocument document, CueAnalysis analysis, LabelOptions options)
    {
        try
        {
            return AnnotatedScore.Write(document, analysis, options);
        }
        catch (ArgumentException e) when (options.Part.Length > 0)
        {
            throw new UsageException($"--part: {e.Message}");
        }
    }

    private static string Strip(Session session, ScoreInput input)
    {
        var document = ScoreFile.Load(input.Path).MusicXml
            ?? throw new ScoreFormatException("only MusicXML carries labels; there is nothing to strip from this file.");
        using var results = session.ResultsIn(input.Folder);
        var name = $"{input.Name}.stripped.{Ending(document)}";
        results.Add(name, AnnotatedScore.Strip(document));
        results.Commit();
        return $"{input.Path}: labels taken out -> {Path.Combine(input.Folder, name)}";
    }

    private static string Ending(MusicXmlDocument document) => document.IsCompressed ? "mxl" : "musicxml";

    private static string Count(int number, string noun) => number == 1 ? $"1 {noun}"
        : string.Create(CultureInfo.InvariantCulture, $"{number} {noun}s");
}
