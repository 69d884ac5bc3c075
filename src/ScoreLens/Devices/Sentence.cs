using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>The shape of a reason: a note, what it is, where it goes, how the chord moves.</summary>
internal static class Sentence
{
    /// <summary>
    /// <c>F# is the raised fourth degree, the leading tone of V; it rises to G as the chord moves to V.</c> Without a motion the
    /// second half speaks of the chord alone.
    /// </summary>
    public static string Of(Key key, Tone tone, string role, Motion? motion, string end)
    {
        var degree = DegreeWords.Of(key, tone);
        var what = degree == role ? degree : $"{degree}, {role}";
        if (motion is { } moves) return $"{tone} is {what}; it {moves} {end}.";
        return Joined($"{tone} is {what}; {end}.");
    }

    /// <summary>Joins the two halves of a reason: what follows a semicolon stands as a sentence of its own.</summary>
    public static string Joined(string reason) => reason
        .Replace("; as the chord ", "; the chord ", StringComparison.Ordinal)
        .Replace("; but ", ", but ", StringComparison.Ordinal)
        .Replace("; and ", ", and ", StringComparison.Ordinal)
        .Replace("; as ", "; ", StringComparison.Ordinal);
}
