namespace ScoreLens.Theory;

/// <summary>
/// What an applied chord points at: the degree after the slash in <c>V7/ii</c>, with its own mode (lower case is minor),
/// inside <see cref="Of"/> where applied chords are stacked (<c>V/V/vi</c>).
/// </summary>
/// <param name="Alteration">Accidental before the degree in semitones, -2..2.</param>
/// <param name="Degree">Scale degree, 1..7.</param>
/// <param name="Mode">Mode of the degree's own triad.</param>
/// <param name="Of">The target that this one is itself reckoned in, or null for the key.</param>
public sealed record AppliedTarget(int Alteration, int Degree, Mode Mode, AppliedTarget? Of = null)
{
    /// <summary>Fifths from the key's tonic up to this target's tonic, in a key of <paramref name="keyMode"/>.</summary>
    public int FifthsAbove(Mode keyMode)
    {
        var (start, mode) = Of is null ? (0, keyMode) : (Of.FifthsAbove(keyMode), Of.Mode);
        return start + DegreeFifths.Of(Degree, Alteration, mode, Mode == Mode.Minor ? ChordQuality.Minor : ChordQuality.Major);
    }

    /// <summary>The key that the target stands for, reckoned in <paramref name="key"/>.</summary>
    public Key In(Key key) => new(key.Tonic + FifthsAbove(key.Mode), Mode);

    /// <summary>Plain form without the slash: <c>ii</c>, <c>bVII</c>, <c>V/vi</c>.</summary>
    public override string ToString()
    {
        var numeral = NumeralText.Accidental(Alteration) + NumeralText.Roman(Degree, Mode == Mode.Major);
        return Of is null ? numeral : $"{numeral}/{Of}";
    }
}
