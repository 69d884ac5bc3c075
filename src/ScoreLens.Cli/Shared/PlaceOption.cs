using System.CommandLine;

namespace ScoreLens.Cli.Shared;

/// <summary>The option <c>--at</c>, the same in every command that speaks of one place.</summary>
internal static class PlaceOption
{
    public static Option<ScorePlace?> Create(bool required = false) => new("--at")
    {
        Description = "The place: a printed measure number, with a beat if it is not the first; a rehearsal mark (B), with a "
            + "number of measures after it (B+3); or a time (0:01:23.5 or, with --frames, 01:02:03:12).",
        HelpName = "MEASURE[:BEAT]|MARK[+N]|TIME",
        Required = required,
        CustomParser = result =>
        {
            if (ScorePlace.TryParse(result.Tokens[0].Value, out var place)) return place;
            result.AddError($"--at: '{result.Tokens[0].Value}' is not a place such as 12, 12:3, B+3 or 0:01:23.");
            return null;
        },
    };
}
