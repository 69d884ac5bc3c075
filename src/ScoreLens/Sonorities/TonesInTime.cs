using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>Looks into verticals by time.</summary>
internal static class TonesInTime
{
    /// <summary>How long each spelled tone sounds in a span, in quarter notes, octaves taken together.</summary>
    public static IReadOnlyDictionary<Tone, double> Of(IReadOnlyList<Sonority> sonorities, Fraction from, Fraction to)
    {
        var times = new Dictionary<Tone, double>();
        for (var i = First(sonorities, from); i < sonorities.Count && sonorities[i].Onset < to; i++)
        {
            var length = (Fraction.Min(to, sonorities[i].End) - Fraction.Max(from, sonorities[i].Onset)).ToDouble();
            foreach (var tone in sonorities[i].Notes.Select(n => n.Pitch.Tone).Distinct())
                times[tone] = times.GetValueOrDefault(tone) + length;
        }

        return times;
    }

    /// <summary>The verticals that sound in a span, in order.</summary>
    public static IEnumerable<Sonority> Between(IReadOnlyList<Sonority> sonorities, Fraction from, Fraction to)
    {
        for (var i = First(sonorities, from); i < sonorities.Count && sonorities[i].Onset < to; i++) yield return sonorities[i];
    }

    /// <summary>Index of the vertical that sounds at a time; the count where the time lies behind the last one.</summary>
    public static int First(IReadOnlyList<Sonority> sonorities, Fraction at) =>
        Sorted.FirstWhere(sonorities.Count, i => sonorities[i].End > at);
}
