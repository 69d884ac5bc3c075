using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// The plain chord of the key that a coloured one stands for (Kostka and Payne, Tonal Harmony, chapters on applied chords, mixture, the
/// Neapolitan and augmented sixths; Levine, The Jazz Theory Book, on tritone substitutes; from memory): the chord of the scale on the same
/// degree, and for the Neapolitan, the augmented sixths and leading-tone chords of V the chord of the subdominant that they colour.
/// </summary>
internal static class PlainChord
{
    private static readonly string[] Major = ["I", "ii", "iii", "IV", "V", "vi", "viio"],
        Minor = ["i", "iio", "III", "iv", "V", "VI", "viio"];

    /// <summary>The plain chords behind a coloured one, the nearest first, each in the inversions that will do.</summary>
    /// <param name="key">The key.</param>
    /// <param name="numeral">The coloured chord.</param>
    /// <param name="isSubstitute">Whether it is a tritone substitute, which stands for the dominant a tritone away.</param>
    public static IEnumerable<(Numeral Numeral, int[] Inversions)> Of(Key key, Numeral numeral, bool isSubstitute)
    {
        if (numeral.Kind is NumeralKind.CadentialSixFour) yield break;
        if (numeral.Kind == NumeralKind.AugmentedSixth && !numeral.IsApplied)
        {
            // Over its bass, the sixth degree; or with ii in its place.
            yield return (On(key, 4), [1]);
            yield return (On(key, 2), key.IsMinor ? [1] : [0, 1]);
            yield break;
        }

        var root = numeral.Root(key);
        if (isSubstitute) root = (root + 6).NearestTo(key.Tonic);
        if (numeral is { Kind: NumeralKind.Plain, Degree: 2, Alteration: -1, IsApplied: false } && !isSubstitute)
        {
            yield return (On(key, 2), [1]);
            yield return (On(key, 4), [0]);
            yield break;
        }

        if (Degree(key, root) is not { } degree) yield break;
        if (degree == 5 && numeral.Quality.IsSeventh()) yield return (new Numeral(5, ChordQuality.DominantSeventh), [0, 1, 2, 3]);
        var isDiminished = degree is 7 || (degree == 2 && key.IsMinor);
        yield return (On(key, degree), isDiminished ? [1] : [0, 1]);
        // The leading tone of V colours the fourth degree, which is ii's third as well.
        if (degree == 4) yield return (On(key, 2), key.IsMinor ? [1] : [0, 1]);
    }

    private static Numeral On(Key key, int degree) => Numeral.Parse((key.IsMinor ? Minor : Major)[degree - 1]);

    // The degree on whose letter a root stands.
    private static int? Degree(Key key, Tone root)
    {
        for (var degree = 1; degree <= 7; degree++)
            if (key.Degree(degree).Letter == root.Letter) return degree;
        return null;
    }
}
