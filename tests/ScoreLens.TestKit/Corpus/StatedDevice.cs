using ScoreLens.Theory;
using static ScoreLens.Theory.ChordQuality;

namespace ScoreLens.TestKit.Corpus;

/// <summary>
/// The device that a numeral states in itself: the table of the corpus's <c>evaluate.py</c> (<c>device_of</c>), written out again.
/// </summary>
internal static class StatedDevice
{
    private static readonly HashSet<(int, ChordQuality)> MajorMixture =
    [
        (0, Minor), (0, MinorSeventh), (-1, Minor), (-1, MinorSeventh), (-4, Major), (-4, MajorSeventh), (-3, Major), (-3, MajorSeventh),
            (-2, Major),
        (-2, DominantSeventh), (2, Diminished), (2, HalfDiminishedSeventh), (1, Minor), (1, MinorSeventh), (5, DiminishedSeventh),
            (-4, DominantSeventh),
    ];

    private static readonly HashSet<(int, ChordQuality)> MinorMixture = [(0, Major), (4, Minor), (3, Minor), (3, MinorSeventh)];

    private static readonly HashSet<(int, ChordQuality)> MajorDiatonic =
    [
        (0, Major), (0, MajorSeventh), (2, Minor), (2, MinorSeventh), (4, Minor), (4, MinorSeventh), (-1, Major), (-1, MajorSeventh),
            (1, Major),
        (1, DominantSeventh), (3, Minor), (3, MinorSeventh), (5, Diminished), (5, HalfDiminishedSeventh),
    ];

    private static readonly HashSet<(int, ChordQuality)> MinorDiatonic =
    [
        (0, Minor), (0, MinorSeventh), (0, MinorMajorSeventh), (2, Diminished), (2, HalfDiminishedSeventh), (2, Minor), (2, MinorSeventh),
            (-3, Major),
        (-3, MajorSeventh), (-3, Augmented), (-3, AugmentedMajorSeventh), (-1, Minor), (-1, MinorSeventh), (-1, Major),
            (-1, DominantSeventh), (1, Minor),
        (1, MinorSeventh), (1, Major), (1, DominantSeventh), (-4, Major), (-4, MajorSeventh), (3, Diminished), (3, HalfDiminishedSeventh),
            (-2, Major),
        (-2, DominantSeventh), (5, Diminished), (5, DiminishedSeventh), (5, HalfDiminishedSeventh),
    ];

    /// <summary><c>applied</c>, <c>mixture</c>, <c>augmented-sixth</c>, <c>neapolitan</c>, <c>other</c>, or empty.</summary>
    public static string Of(Key key, Numeral numeral)
    {
        if (numeral.Kind == NumeralKind.AugmentedSixth) return "augmented-sixth";
        if (numeral.Target is { } target && target.FifthsAbove(key.Mode) != 0) return "applied";
        var chord = (numeral.RootFifths(key.Mode), numeral.Quality);
        if (chord is (-5, Major or MajorSeventh)) return "neapolitan";
        if ((key.IsMinor ? MinorMixture : MajorMixture).Contains(chord)) return "mixture";
        return (key.IsMinor ? MinorDiatonic : MajorDiatonic).Contains(chord) ? "" : "other";
    }
}
