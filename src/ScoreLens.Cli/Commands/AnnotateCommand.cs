using System.CommandLine;
using ScoreLens.Cli.Annotating;
using ScoreLens.Cli.Shared;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;

namespace ScoreLens.Cli.Commands;

/// <summary>The main job: annotated score, tables and page of every score.</summary>
internal static class AnnotateCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var annotation = new AnnotationOption();
        var strip = new Option<bool>("--strip")
        {
            Description = "Remove the labels: write NAME.stripped.musicxml and nothing else."
        };
        var resume = new Option<bool>("--resume")
        {
            Description = "Skip inputs whose results already exist and were made from the same bytes with the same options. "
                + "Writes NAME.resume.txt, which records this.",
        };
        var command = new DocumentedCommand(
            "annotate",
            "Finds chords, keys, Roman numerals and chromatic devices, and writes the annotated score, the tables and the page.",
            "annotate testdata/lamplight.musicxml --out results",
            "annotate cues --out results --json --band 15-25 --labels numerals,devices",
            "annotate symphony.mxl --movement 2 --on reduction --out results",
            "annotate corpus --out results --shard 3/16 --resume",
            "annotate results/lamplight.annotated.musicxml --strip --out plain");
        scores.AddTo(command);
        annotation.AddTo(command);
        command.Add(strip);
        command.Add(resume);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            var request = annotation.Of(parse);
            session.ForEach(
                input => parse.GetValue(strip) ? Strip(session, input)
                    : parse.GetValue(resume) ? Resume(session, input, request) : Annotated.Write(session, input, request).Summary,
                summary =>
                {
                    if (!session.IsQuiet) session.Output.WriteLine(summary);
                });
            return session.Status;
        });
        return command;
    }

    private static string Resume(Session session, ScoreInput input, AnnotationRequest request)
    {
        var fingerprint = EarlierRun.Fingerprint(input, session, request);
        return EarlierRun.IsThere(input, fingerprint) ? $"{input.Path}: unchanged -> {input.Folder}"
            : Annotated.Write(session, input, request, resumable: fingerprint).Summary;
    }

    private static string Strip(Session session, ScoreInput input)
    {
        var file = ScoreFile.Load(input.Path, cancellationToken: session.Stopped);
        using var results = session.ResultsIn(input.Folder);
        if (file.MusicXml is not { } document)
        {
            var bare = MarkedMidi.Strip(file.Midi.Span)
                ?? throw new ScoreFormatException("the MIDI file is damaged or lies in another container; its labels cannot be "
                    + "removed.");
            results.Add($"{input.Name}.stripped.mid", bare);
            results.Commit();
            return $"{input.Path}: labels removed -> {Path.Combine(input.Folder, $"{input.Name}.stripped.mid")}";
        }

        var name = $"{input.Name}.stripped.{Annotated.Ending(document)}";
        results.Add(name, AnnotatedScore.Strip(document));
        results.Commit();
        return $"{input.Path}: labels removed -> {Path.Combine(input.Folder, name)}";
    }
}
