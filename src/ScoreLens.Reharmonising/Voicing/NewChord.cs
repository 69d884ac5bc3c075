using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>A chord to be written into a score.</summary>
/// <param name="Name">Its chord symbol.</param>
/// <param name="Tones">Its tones, as the numeral orders them.</param>
/// <param name="Bass">Its bass.</param>
/// <param name="Essential">Places in <paramref name="Tones"/> of the members without which it is another chord.</param>
/// <param name="Tendencies">Tones that should not be doubled: the leading tone, the seventh, chromatic tones but a root that is no
/// leading tone.</param>
/// <param name="Leading">The leading tone of a dominant or a leading-tone chord; null where the chord has none.</param>
/// <param name="Seventh">The seventh; null where the chord has none.</param>
internal sealed record NewChord(string Name, IReadOnlyList<Tone> Tones, Tone Bass, IReadOnlyList<int> Essential,
    IReadOnlyList<Tone> Tendencies, Tone? Leading, Tone? Seventh)
{
    /// <summary>The chord of a numeral in a key.</summary>
    public static NewChord Of(Key key, Numeral numeral)
    {
        var tones = numeral.Tones(key);
        var isSixth = numeral.Quality.IsAugmentedSixth();
        // The root of a leading-tone chord is the leading tone of what it leads to.
        var isRootFree = !isSixth && !(numeral.Kind == NumeralKind.Plain && numeral.Degree == 7 && numeral.Quality
            is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh);
        var tendencies = tones.Where((t, i) => t - key.Tonic == 5 || (i == 3 && numeral.Quality.IsSeventh())
            || (IsDominant(numeral) && i == 1) || (!key.Contains(t) && (i > 0 || !isRootFree)) || (i == 0 && !isRootFree));
        var bass = numeral.Kind == NumeralKind.CommonToneDiminished ? tones[numeral.Inversion] : numeral.Bass(key);
        Tone? leading = IsDominant(numeral) ? tones[1] : isSixth || isRootFree ? null : tones[0];
        Tone? seventh = numeral.Quality.IsSeventh() && !isSixth && numeral.Kind != NumeralKind.CommonToneDiminished ? tones[3] : null;
        return new NewChord(ChordName.Of(key, numeral).ToString(), tones, bass, EssentialOf(numeral), [.. tendencies], leading, seventh);
    }

    private static bool IsDominant(Numeral numeral) => numeral.Kind == NumeralKind.Plain && numeral.Degree == 5
        && numeral.Quality is not (ChordQuality.Minor or ChordQuality.MinorSeventh);

    /// <summary>Whether a tone is one that no two voices may have.</summary>
    public bool IsTendency(Tone tone) => Tendencies.Any(tone.IsEnharmonicWith);

    /// <summary>
    /// Whether a voice leaves the seventh or the leading tone as it should not: the seventh falls by step, the leading tone rises by
    /// semitone or falls by one in a chain of dominants, and both may be held (Kostka and Payne, Tonal Harmony, ch. 12 and 13; from
    /// memory). What goes nowhere is left open.
    /// </summary>
    public bool IsUnresolved(VoiceMotion motion)
    {
        if (motion.After is not { } after) return false;
        var step = after.Midi - motion.Last.Midi;
        return (Seventh is { } seventh && seventh.IsEnharmonicWith(motion.Last.Tone) && step is not (0 or -1 or -2))
            || (Leading is { } leading && leading.IsEnharmonicWith(motion.Last.Tone) && step is not (0 or 1 or -1));
    }

    // A perfect fifth may be left out; a diminished or augmented one tells the chord, and so does each tone of an augmented sixth
    // but the one that all three kinds share. Of a common-tone diminished seventh the raised second degree too, without which it is a
    // leading-tone triad.
    private static int[] EssentialOf(Numeral numeral) => numeral.Kind == NumeralKind.CommonToneDiminished ? [0, 1, 2, 3]
        : numeral.Quality switch
        {
            ChordQuality.Major or ChordQuality.Minor => [0, 1],
            ChordQuality.Diminished or ChordQuality.Augmented => [0, 1, 2],
            ChordQuality.HalfDiminishedSeventh or ChordQuality.DiminishedSeventh or ChordQuality.FrenchSixth or ChordQuality.GermanSixth =>
                [0, 2, 3],
            ChordQuality.AugmentedSeventh or ChordQuality.AugmentedMajorSeventh => [1, 2, 3],
            ChordQuality.ItalianSixth => [0, 1, 2],
            _ => [0, 1, 3],
        };
}
