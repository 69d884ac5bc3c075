using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;

namespace ScoreLens.Cli.Shared;

/// <summary>Loads a cue from a score, or from a table of chords that <c>annotate</c> wrote, with the table of phrases beside it.</summary>
internal static class CueFile
{
    private const string Chords = ".chords.csv";
    private const string Phrases = ".phrases.csv";

    /// <summary>The endings of what a cue may come from.</summary>
    public static IReadOnlyCollection<string> Extensions { get; } = [.. ScoreFile.Extensions, Chords];

    /// <summary>
    /// Loads the cues of a file, one a movement; the movement alone that the run asks for. A table keeps the keys that it was written with.
    /// </summary>
    /// <param name="input">The file.</param>
    /// <param name="session">The run.</param>
    /// <param name="keys">When a key counts as new.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    /// <exception cref="ScoreFormatException">The file is neither a score nor a table of chords.</exception>
    /// <exception cref="UsageException">The file has no such movement.</exception>
    public static IReadOnlyList<TabledCue> Load(ScoreInput input, Session session, KeyRule keys, ClockOptions? clock = null)
    {
        var cues = AllOf(input, session, keys, clock);
        if (session.Movement is not { } number) return cues;
        return cues.Where(c => c.Movement == number).ToList() is { Count: > 0 } found ? found
            : throw Session.NoMovement(number, cues.Count);
    }

    private static IReadOnlyList<TabledCue> AllOf(ScoreInput input, Session session, KeyRule keys, ClockOptions? clock)
    {
        var path = input.Path;
        if (!path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))
        {
            var score = ScoreFile.Load(path, cancellationToken: session.Stopped).Score;
            if (clock is not null) session.SayUnfollowed(input, score, clock);
            return TabledCue.AllOf(input.Name, CueAnalysis.Of(score, keys, session.From, session.Stopped), clock);
        }

        if (path.EndsWith(Phrases, StringComparison.OrdinalIgnoreCase))
            throw new ScoreFormatException("This is a table of phrases; give the table of chords beside it, which ends in .chords.csv.");
        var named = path.EndsWith(Chords, StringComparison.OrdinalIgnoreCase);
        var beside = named ? path[..^Chords.Length] + Phrases : "";
        using var chords = File.OpenText(path);
        return TabledCue.AllOf(
            named ? Path.GetFileName(path)[..^Chords.Length] : input.Name,
            ChordTable.Read(chords),
            File.Exists(beside) ? ReadPhrases(beside) : null);
    }

    private static IReadOnlyList<PhrasePlace> ReadPhrases(string path)
    {
        using var reader = File.OpenText(path);
        return PhraseTable.Read(reader);
    }
}
