namespace ScoreLens.Devices;

/// <summary>How a chord reaches a goal.</summary>
/// <param name="Resolution">Resolved, delayed or unresolved.</param>
/// <param name="Goal">The chord that it reaches, or null.</param>
/// <param name="Between">The numerals that stand between.</param>
internal sealed record Continuation(Resolution Resolution, ChordInContext? Goal, string Between)
{
    private const int MostBetween = 2;

    /// <summary>
    /// Looks for the first chord that is a goal: next, after chords that the device usually goes through (<paramref name="through"/>),
    /// or after up to two others, which is a delay.
    /// </summary>
    public static Continuation To(ChordInContext chord, Func<ChordInContext, bool> isGoal, Func<ChordInContext, bool>? through = null)
    {
        var between = new List<string>();
        var strangers = 0;
        foreach (var next in chord.Following())
        {
            if (isGoal(next)) return new Continuation(strangers == 0 ? Resolution.Resolved : Resolution.Delayed, next, string.Join(", ", between));
            if (through?.Invoke(next) != true && ++strangers > MostBetween) break;
            var text = next.Numeral.ToString();
            if (between.Count == 0 || between[^1] != text) between.Add(text);
        }

        return new Continuation(Resolution.Unresolved, null, "");
    }

    /// <summary>Whether the goal is reached.</summary>
    public bool IsReached => Goal is not null;

    /// <summary>The end of the sentence: how it goes on to a goal named in words.</summary>
    public string Says(string goal, ChordInContext chord) => Resolution switch
    {
        Resolution.Resolved when Between.Length == 0 => $"as the chord moves to {goal}",
        Resolution.Resolved => $"as the chord moves through {Between} to {goal}",
        Resolution.Delayed => $"and {goal} comes late, after {Between}",
        _ => chord.Following().FirstOrDefault() is { } next ? $"but {next.Numeral} follows instead of {goal}" : $"but nothing follows where {goal} is expected",
    };
}
