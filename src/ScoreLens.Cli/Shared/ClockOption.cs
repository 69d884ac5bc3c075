using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;

namespace ScoreLens.Cli.Shared;

/// <summary>The options that say how times on the clock are reckoned, the same in every command that shows or takes them.</summary>
internal sealed class ClockOption
{
    private readonly Option<double?> _tempo = new("--tempo")
    {
        Description = "Quarter notes per minute where the score has no tempo mark, or before its first one. Without a tempo no "
            + "times are shown.",
        HelpName = "QUARTERS",
        CustomParser = result =>
        {
            if (double.TryParse(result.Tokens[0].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var tempo)
                && tempo is >= 1 and <= 1000) return tempo;
            result.AddError($"--tempo: '{result.Tokens[0].Value}' is not a number of quarter notes per minute from 1 to 1000.");
            return null;
        },
    };

    private readonly Option<int> _frames = new("--frames")
    {
        Description = "Show times as time codes HH:MM:SS:FF with this number of frames per second (non-drop).",
        HelpName = "N",
        CustomParser = result =>
        {
            if (int.TryParse(result.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var frames)
                && frames is >= 1 and <= 240) return frames;
            result.AddError($"--frames: '{result.Tokens[0].Value}' is not a number of frames per second from 1 to 240.");
            return 0;
        },
    };

    private readonly Option<string?> _start = new("--start")
    {
        Description = "Time at which the cue starts: H:MM:SS, or HH:MM:SS:FF with --frames. Each movement starts again from "
            + "it. Default: zero.",
        HelpName = "TIME",
    };

    private readonly Option<bool> _asPlayed = new("--as-played")
    {
        Description = "Compute times with repeats, da capo and dal segno as played. Default: each measure once, as written.",
    };

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_tempo, _start, _frames, _asPlayed]) command.Add(option);
        command.Validators.Add(result =>
        {
            if (result.GetValue(_start) is { } start && new ClockOptions { Frames = result.GetValue(_frames) }.Seconds(start) is null)
                result.AddError($"--start: '{start}' is not a time such as 0:01:23.5 or, with --frames, 01:02:03:12.");
        });
    }

    /// <summary>What the command line says.</summary>
    public ClockOptions Of(ParseResult parse)
    {
        var options = new ClockOptions
        {
            Tempo = parse.GetValue(_tempo),
            Frames = parse.GetValue(_frames),
            AsPlayed = parse.GetValue(_asPlayed),
        };
        return parse.GetValue(_start) is { } start && options.Seconds(start) is { } seconds ? options with { Start = seconds } : options;
    }
}
