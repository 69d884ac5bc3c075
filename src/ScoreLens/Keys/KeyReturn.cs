using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Keys;

/// <summary>
/// Names chords of a key that is taken back in the key around it: "its dominants are applied chords of the degree that it stands on, the
/// other chords are the key's own or borrowed" (common practice).
/// </summary>
internal static class KeyReturn
{
    /// <summary>
    /// The degree of the key around that a key stands on, in the mode of that degree's own triad; null where its tonic triad is not one of
    /// the key around.
    /// </summary>
    public static AppliedTarget? Target(Key around, Key key)
    {
        var quality = key.IsMinor ? ChordQuality.Minor : ChordQuality.Major;
        if (key.Tonic == around.Tonic || !Triad(key).All(around.Contains)) return null;
        return DegreeFifths.TryFind(key.Tonic - around.Tonic, around.Mode, quality, out var degree, out var alteration)
            ? new AppliedTarget(alteration, degree, key.Mode)
            : null;
    }

    /// <summary>A chord of a key with such a target; null where the key around has no numeral for it.</summary>
    public static ChordReading? Applied(ChordReading chord, Key around, AppliedTarget target)
    {
        if (chord.Numeral is not { } numeral) return chord with { Key = around };
        if (numeral.Target is not null || numeral.Kind == NumeralKind.CommonToneDiminished) return null;
        var leads = numeral.Kind != NumeralKind.Plain || (numeral.Degree is 5 or 7 && !numeral.Tones(chord.Key).All(around.Contains));
        if (!leads) return chord.NamedIn(around);
        var applied = numeral.Kind switch
        {
            NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, numeral.Inversion, target),
            NumeralKind.CadentialSixFour => Numeral.CadentialSixFour(target.Mode, target),
            _ => new Numeral(numeral.Degree, numeral.Quality, numeral.Inversion, numeral.Alteration, target, numeral.Extension),
        };
        return chord with { Key = around, Numeral = applied };
    }

    /// <summary>
    /// A chord of any key, by its root and shape alone; null where the key around has no numeral for it, and for chords that no root tells
    /// (a cadential six-four keeps its key's tonic triad, a common-tone diminished seventh has none).
    /// </summary>
    public static ChordReading? ByShape(ChordReading chord, Key around)
    {
        if (chord.Numeral is not { } numeral) return chord with { Key = around };
        if (numeral.Kind == NumeralKind.CommonToneDiminished) return null;
        return NameInKey.Of(around, numeral.Root(chord.Key).NearestTo(around.Tonic), numeral.Quality, numeral.Inversion,
            numeral.Extension) is { } named ? chord with { Key = around, Numeral = named } : null;
    }

    private static IEnumerable<Tone> Triad(Key key) => [key.Tonic, key.Tonic + 1, key.Tonic + (key.IsMinor ? -3 : 4)];
}
