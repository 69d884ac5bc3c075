using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// What tells one reading in a key from another, whatever its spelling in text: root, what it is applied to, quality and
/// inversion, with the mode of the key. The cadential six-four counts as the tonic's six-four; a diminished seventh on the tonic, or on
/// what it is applied to, is the common-tone diminished seventh.
/// </summary>
/// <param name="Mode">Mode of the local key.</param>
/// <param name="Root">Root in fifths above the tonic.</param>
/// <param name="Target">What it is applied to, in fifths above the tonic; null where it is not applied.</param>
/// <param name="Quality">Chord quality.</param>
/// <param name="Inversion">Chord member in the bass, 0..3.</param>
internal readonly record struct NumeralClass(Mode Mode, int Root, int? Target, ChordQuality Quality, int Inversion)
{
    // The raised second, raised fourth and sixth, as they are spelled by where they go.
    private static ReadOnlySpan<int> AroundCommonTone => [0, 9, 6, 3];

    /// <summary>Whether it keeps the tonic, or the tone that it is applied to, under three neighbours of a chord on it.</summary>
    public bool IsCommonToneDiminished => Quality == ChordQuality.DiminishedSeventh && Root == (Target ?? 0);

    /// <summary>The members in fifths above the root, as the chord is spelled.</summary>
    public ReadOnlySpan<int> Members => IsCommonToneDiminished ? AroundCommonTone : Quality.Members();

    /// <summary>The bass in fifths above the tonic.</summary>
    public int Bass => Root + Members[Inversion];

    /// <summary>The class of a numeral in a key of a mode.</summary>
    public static NumeralClass Of(Numeral numeral, Mode mode) => new(
        mode,
        numeral.RootFifths(mode),
        numeral.IsApplied ? numeral.Target!.FifthsAbove(mode) : null,
        numeral.Quality,
        numeral.Inversion);

    /// <summary>
    /// The numeral that says this class, applied targets taken in the mode that their own triad has in the scale, else major.
    /// Null where no numeral says it.
    /// </summary>
    public Numeral? ToNumeral()
    {
        var key = new Key(new Tone(0), Mode);
        if (Target is not { } target)
            return IsCommonToneDiminished ? Numeral.CommonToneDiminished(Inversion)
                : Numeral.For(key, key.Tonic + Root, Quality, Inversion);
        foreach (var targetMode in IsCommonToneDiminished && target == 1 ? [Mode.Major] : TargetModes(target))
        {
            var quality = targetMode == Mode.Minor ? ChordQuality.Minor : ChordQuality.Major;
            if (Numeral.For(key, key.Tonic + target, quality) is not { } degree) continue;
            var applied = new AppliedTarget(degree.Alteration, degree.Degree, targetMode);
            if (applied.FifthsAbove(Mode) != target) continue;
            if (IsCommonToneDiminished) return Numeral.CommonToneDiminished(Inversion, applied);
            if (Numeral.For(key, key.Tonic + Root, Quality, Inversion, applied) is { } numeral && Of(numeral, Mode) == this) return numeral;
        }

        return null;
    }

    private Mode[] TargetModes(int target)
    {
        var minor = Mode == Mode.Major ? target is 2 or 3 or 4 : target is -1 or 1 or 2;
        return minor ? [Mode.Minor, Mode.Major] : [Mode.Major, Mode.Minor];
    }
}
