using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Experts;

/// <summary>A chord by its root above the tonic and its kind, whatever is in its bass and whatever it is applied to.</summary>
/// <param name="Above">Root above the tonic of the place's key in semitones, 0..11.</param>
/// <param name="Kind">Its quality by number; beyond those the cadential six-four and the common-tone diminished seventh.</param>
internal readonly record struct ChordClass(int Above, int Kind)
{
    private const int CadentialSixFour = 20, CommonToneDiminished = 21;

    // Triads without their sevenths: what two chords of one kind are by their triads.
    private static readonly int[] Triads =
    [
        (int)ChordQuality.Major, (int)ChordQuality.Minor, (int)ChordQuality.Diminished, (int)ChordQuality.Augmented,
        (int)ChordQuality.Major, (int)ChordQuality.DominantSeventh, (int)ChordQuality.Minor, (int)ChordQuality.Diminished,
        (int)ChordQuality.Diminished, (int)ChordQuality.Augmented, (int)ChordQuality.Augmented, (int)ChordQuality.Minor,
        (int)ChordQuality.GermanSixth, (int)ChordQuality.GermanSixth, (int)ChordQuality.GermanSixth,
    ];

    /// <summary>The kind without what tells a triad from its seventh chord, but for dominant sevenths.</summary>
    public int Family => Kind < Triads.Length ? Triads[Kind] : Kind;

    /// <summary>The class of a chord, seen from a key that may be another than its own.</summary>
    /// <param name="place">The key of the place.</param>
    /// <param name="key">The chord's own key.</param>
    /// <param name="numeral">The chord in its own key.</param>
    public static ChordClass Of(Key place, Key key, Numeral numeral) =>
        new(Tone.Semitones(place.Tonic, numeral.Root(key)), numeral.Kind switch
        {
            NumeralKind.CadentialSixFour => CadentialSixFour,
            NumeralKind.CommonToneDiminished => CommonToneDiminished,
            _ => (int)numeral.Quality,
        });
}
