using System.CommandLine;
using ScoreLens.Cli.Annotating;
using ScoreLens.Cli.Shared;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Cli.Commands;

/// <summary>The main job: annotated score, tables and page of every score.</summary>
internal static class AnnotateCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var annotation = new AnnotationOption();
        var strip = new Option<bool>("--strip") { Description = "Take the labels out again: writes NAME.stripped.musicxml and nothing else." };
        var command = new DocumentedCommand(
            "annotate",
            "Finds chords, keys, Roman numerals and chromatic devices, and writes the annotated score, the tables and the page.",
            "annotate testdata/lamplight.musicxml --out results",
            "annotate cues --out results --json --band 15-25 --labels numerals,devices",
            "annotate symphony.mxl --movement 2 --on reduction --out results",
            "annotate results/lamplight.annotated.musicxml --strip --out plain");
        scores.AddTo(command);
        annotation.AddTo(command);
        command.Add(strip);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var request = annotation.Of(parse);
            session.ForEach(
                input => parse.GetValue(strip) ? Strip(session, input) : Annotated.Write(session, input, request).Summary,
                summary =>
                {
                    if (!session.IsQuiet) session.Output.WriteLine(summary);
                });
            return session.Status;
        });
        return command;
    }

    private static string Strip(Session session, ScoreInput input)
    {
        var document = ScoreFile.Load(input.Path).MusicXml
            ?? throw new ScoreFormatException("only MusicXML carries labels; there is nothing to strip from this file.");
        using var results = session.ResultsIn(input.Folder);
        var name = $"{input.Name}.stripped.{Annotated.Ending(document)}";
        results.Add(name, AnnotatedScore.Strip(document));
        results.Commit();
        return $"{input.Path}: labels taken out -> {Path.Combine(input.Folder, name)}";
    }
}
