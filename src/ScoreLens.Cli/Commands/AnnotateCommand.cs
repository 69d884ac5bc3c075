using System.CommandLine;
using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Output.Page;
using ScoreLens.Output.Tables;

namespace ScoreLens.Cli.Commands;

/// <summary>The main job: annotated score, tables and page of every score.</summary>
internal static class AnnotateCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var json = new Option<bool>("--json") { Description = "Write NAME.json too: both tables in one document." };
        var band = BandOption.Create();
        var command = new DocumentedCommand(
            "annotate",
            "Finds chords, keys, Roman numerals and chromatic devices, and writes the annotated score, the tables and the page.",
            "annotate song.musicxml",
            "annotate cues --out results --json --band 15-25");
        scores.AddTo(command);
        command.Add(json);
        command.Add(band);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            session.ForEach(input => Annotate(session, input, parse.GetValue(json), parse.GetValue(band)), summary =>
            {
                if (!session.IsQuiet) session.Output.WriteLine(summary);
            });
            return session.Status;
        });
        return command;
    }

    private static string Annotate(Session session, ScoreInput input, bool json, Band band)
    {
        var file = ScoreFile.Load(input.Path);
        var analysis = CueAnalysis.Of(file.Score);
        var density = CueDensity.Of(analysis, band);
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.chords.csv", writer => ChordTable.Write(ChordRow.Of(analysis), writer));
        results.Add($"{input.Name}.phrases.csv", writer => PhraseTable.Write(PhraseRow.Of(analysis, density), writer));
        if (json) results.Add($"{input.Name}.json", AnalysisJson.Write(analysis, density));
        var notation = file.MusicXml?.Xml.Root?.ToString(SaveOptions.DisableFormatting);
        results.Add($"{input.Name}.page.html", CuePage.Write(analysis, density, notation));
        results.Commit();
        var outside = 100 * density.Whole.OutsideTime.ToDouble();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{input.Path}: {analysis.Reading.HomeKey}, {density.Whole.Chords} chords in {analysis.Phrases.Count} phrases, "
            + $"{outside:0.0} % of the time outside the key -> {input.Folder}");
    }
}
