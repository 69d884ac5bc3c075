namespace ScoreLens.TestKit.Truth;

/// <summary>What can be wrong with a row of <c>chords.csv</c>, by the names that the command <c>truth</c> prints.</summary>
public enum FaultKind
{
    /// <summary>A tone is named that does not sound while the chord lasts, or is written otherwise.</summary>
    Tone,

    /// <summary>A rise, a fall or a held tone that no voice makes.</summary>
    Movement,

    /// <summary>The chord that is named as the next one is not: another root.</summary>
    NextChord,

    /// <summary>The next chord has the root that is said, but its row prints another numeral.</summary>
    NextNumeral,

    /// <summary>A tone is called by a degree of the key that it is not, or the leading tone of a degree that it does not lead to.</summary>
    Degree,

    /// <summary>The chord goes on otherwise than the column <c>resolution</c> says.</summary>
    Resolution,

    /// <summary>
    /// A device rests on fewer than three pitch classes that sound or stand in a chord symbol, and no row beside it has the same harmony
    /// whole.
    /// </summary>
    FewNotes,

    /// <summary>In minor, a chord applied to the minor dominant goes to the major one.</summary>
    MinorDominant,

    /// <summary>A Picardy third that ends neither a phrase with a cadence nor the piece.</summary>
    Picardy,

    /// <summary>A pedal that does not sound through the chord, belongs to it, is not its lowest tone, or is another degree.</summary>
    Pedal,

    /// <summary>The sentence says nothing that this check understands.</summary>
    Unread,
}

/// <summary>Something that a row says and the notes do not.</summary>
/// <param name="Kind">What kind of thing.</param>
/// <param name="Row">The row.</param>
/// <param name="What">What is said, or what is so instead.</param>
internal sealed record Fault(FaultKind Kind, TableRow Row, string What)
{
    public override string ToString() =>
        $"{Kind} at quarter {Row.Onset} (measure {Row.Measure}), {Row.Numeral} in {Row.Key}: {What} | {Row.Reason}";
}
