using System.CommandLine;
using System.Globalization;
using ScoreLens.Reading;

namespace ScoreLens.Cli.Shared;

/// <summary>The arguments and options that the commands share; one instance a command.</summary>
internal sealed class ScoreOptions
{
    /// <summary>The scores and folders.</summary>
    public Argument<string[]> Scores { get; } = new("SCORE")
    {
        Description = "MusicXML (.musicxml, .xml, .mxl) or MIDI (.mid, .midi) files, or folders of them.",
        Arity = ArgumentArity.OneOrMore,
    };

    /// <summary>Where results go.</summary>
    public Option<string?> Out { get; } = new("--out")
    {
        Description = "Folder for the results. Default: NAME.scorelens beside the input.",
        HelpName = "DIR",
    };

    /// <summary>No progress and no summary.</summary>
    public Option<bool> Quiet { get; } = new("--quiet") { Description = "Print only errors and the requested output." };

    /// <summary>How many scores at a time.</summary>
    public Option<int> Jobs { get; } = new("--jobs")
    {
        Description = "Number of scores processed at the same time.",
        HelpName = "N",
        DefaultValueFactory = _ => Environment.ProcessorCount,
        CustomParser = result =>
        {
            if (int.TryParse(result.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var jobs)
                && jobs >= 1) return jobs;
            result.AddError($"--jobs: '{result.Tokens[0].Value}' is not a number from 1.");
            return 1;
        },
    };

    /// <summary>One share of the inputs.</summary>
    public Option<Shard?> Shard { get; } = Shared.Shard.Option();

    /// <summary>What harmony is read from.</summary>
    public Option<HarmonySource> From { get; } = new("--from")
    {
        Description = "Read the harmony from the notes, from the score's own chord symbols, or from both. Default: symbols if "
            + "they stand over a melody alone, both if the score also has an accompaniment, notes if it has no symbols.",
        HelpName = "notes|symbols|both",
        CustomParser = result =>
        {
            if (Enum.TryParse<HarmonySource>(result.Tokens[0].Value, ignoreCase: true, out var source) && source != HarmonySource.Automatic
                && Enum.IsDefined(source) && !char.IsAsciiDigit(result.Tokens[0].Value[0])) return source;
            result.AddError($"--from: '{result.Tokens[0].Value}' is not notes, symbols or both.");
            return HarmonySource.Automatic;
        },
    };

    /// <summary>One movement of files that hold several.</summary>
    public Option<int?> Movement { get; } = new("--movement")
    {
        Description = "Only this movement of a file that contains several; measure numbers start again in each. Default: all.",
        HelpName = "N",
        CustomParser = result =>
        {
            if (int.TryParse(result.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && number >= 1) return number;
            result.AddError($"--movement: '{result.Tokens[0].Value}' is not a number from 1.");
            return null;
        },
    };

    /// <summary>
    /// Adds all of them to a command; <paramref name="writes"/> is false for a command that writes no files, <paramref name="reads"/> for
    /// one whose inputs are exercises rather than cues.
    /// </summary>
    public void AddTo(Command command, bool writes = true, bool reads = true)
    {
        // What looks like an option and is no file is a mistyped option, not a score.
        Scores.Validators.Add(result =>
        {
            foreach (var token in result.Tokens)
                if (token.Value.Length == 0) result.AddError("SCORE must be a file or a folder; an empty name was given.");
                else if (token.Value is ['-', _, ..] && !Path.Exists(token.Value)) result.AddError($"There is no option {token.Value}.");
        });
        command.Add(Scores);
        if (writes) command.Add(Out);
        if (reads) command.Add(From);
        if (reads) command.Add(Movement);
        command.Add(Jobs);
        if (reads) command.Add(Shard);
        command.Add(Quiet);
    }
}
