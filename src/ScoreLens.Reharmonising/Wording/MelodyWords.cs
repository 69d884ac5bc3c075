namespace ScoreLens.Reharmonising.Wording;

/// <summary>What of the melody a chord carries, as a teacher says it: <c>the melody's A is its third</c>.</summary>
internal static class MelodyWords
{
    // No more than so many tones are named.
    private const int Named = 3;

    public static string Of(MelodyFit fit)
    {
        if (fit.Held.Count == 0) return "the melody rests over it";
        var roles = fit.Held.Take(Named).ToArray();
        var (tones, members) = (Join(roles.Select(r => $"{r.Tone}")), Join(roles.Select(r => r.Role)));
        var words = $"the melody's {tones} {(roles.Length == 1 ? "is" : "are")} its {members}";
        return fit.Others.Count == 0 ? words : $"{words} ({Join(fit.Others.Take(Named).Select(o => $"{o.Tone} {o.Does}"))})";
    }

    private static string Join(IEnumerable<string> words)
    {
        var list = words.ToArray();
        return list.Length < 2 ? string.Concat(list) : $"{string.Join(", ", list[..^1])} and {list[^1]}";
    }
}
