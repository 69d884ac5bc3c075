using System.CommandLine;
using ScoreLens.Cli.Annotating;
using ScoreLens.Cli.Shared;

namespace ScoreLens.Cli.Commands;

/// <summary>Annotates again whenever a score is saved, and says what changed in the balance.</summary>
internal static class WatchCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var annotation = new AnnotationOption();
        var command = new DocumentedCommand(
            "watch",
            "Annotates scores, and again whenever one is saved: writes the same files as annotate, reloads an open page at the "
                + "same place, and prints one line about what changed in the balance. Takes scores and folders; Ctrl+C ends "
                + "it.",
            "watch cue.musicxml",
            "watch cues --out results --band 15-25");
        scores.AddTo(command);
        annotation.AddTo(command);
        command.SetAction((parse, stop) => new Watching(parse, scores, annotation.Of(parse)).Run(stop));
        return command;
    }
}
