using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Keys in which a reading is a blues: the chords of rest on the first and the fourth degree have minor sevenths. "In the blues I7 and IV7
/// are no dominants; the seventh is a colour of the chord, and I7 is home" (common practice of the twelve-bar blues).
/// </summary>
internal static class BluesKeys
{
    // Of the time on the first degree, and of that on the fourth, the share that has to have the seventh.
    private const double LeastShare = 0.6;

    /// <summary>The major keys in which both the first and the fourth degree are mostly dominant sevenths.</summary>
    public static IReadOnlySet<Key> Of(IReadOnlyList<ChordReading> chords) => chords
        .Where(c => c.Numeral is not null && !c.Key.IsMinor).GroupBy(c => c.Key)
        .Where(g => HasSevenths(g, 0) && HasSevenths(g, -1)).Select(g => g.Key).ToHashSet();

    /// <summary>Whether a chord is a dominant seventh on the first or the fourth degree of its key.</summary>
    public static bool IsOne(Key key, Tone root, ChordQuality quality) =>
        quality == ChordQuality.DominantSeventh && Tone.Semitones(key.Tonic, root) is 0 or 5;

    private static bool HasSevenths(IEnumerable<ChordReading> chords, int degree)
    {
        double all = 0, sevenths = 0;
        foreach (var chord in chords)
        {
            if (!chord.Numeral!.Root(chord.Key).IsEnharmonicWith(chord.Key.Tonic + degree)) continue;
            all += chord.Duration.ToDouble();
            if (chord.Numeral.Quality == ChordQuality.DominantSeventh) sevenths += chord.Duration.ToDouble();
        }

        return sevenths > 0 && sevenths >= LeastShare * all;
    }
}
