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
        var alone = end.StartsWith("as the chord ", StringComparison.Ordinal) ? "the chord " + end["as the chord ".Length..]
            : end.StartsWith("but ", StringComparison.Ordinal) ? end
            : end.StartsWith("and ", StringComparison.Ordinal) ? end["and ".Length..]
            : end.StartsWith("as ", StringComparison.Ordinal) ? end["as ".Length..] : end;
        return $"{tone} is {what}; {alone}.";
    }
}
