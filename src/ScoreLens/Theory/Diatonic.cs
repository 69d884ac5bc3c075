
namespace ScoreLens.Theory;

/// <summary>Which chords are made of a key's own scale.</summary>
public static class Diatonic
{
    /// <summary>
    /// Whether every tone of the chord belongs to the key's own scale: the major scale; in minor the natural, harmonic or
    /// melodic scale, each chord inside one of the three.
    /// </summary>
    public static bool Contains(Key key, IReadOnlyList<Tone> tones)
    {
        ArgumentNullException.ThrowIfNull(tones);
        var above = tones.Select(t => t - key.Tonic).ToArray();
        if (!key.IsMinor) return above.All(f => f is >= -1 and <= 5);
        return above.All(f => f is >= -4 and <= 2)
            || above.All(f => f is 0 or 2 or -3 or -1 or 1 or -4 or 5)
            || above.All(f => f is 0 or 2 or -3 or -1 or 1 or 3 or 5);
    }

    /// <summary>Whether a numeral, in a key, is diatonic; applied chords and augmented sixths never are.</summary>
    public static bool Contains(Key key, Numeral numeral)
    {
        ArgumentNullException.ThrowIfNull(numeral);
        return !numeral.IsApplied && numeral.Kind is NumeralKind.Plain or NumeralKind.CadentialSixFour && Contains(key, numeral.Tones(key));
    }
}
