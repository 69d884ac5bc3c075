namespace ScoreLens.Marking.Labels;

/// <summary>How chords are named.</summary>
[Flags]
public enum LabelNotations
{
    /// <summary>In no way.</summary>
    None = 0,

    /// <summary>Roman numerals with figures: <c>V65/V</c>.</summary>
    Numerals = 1,

    /// <summary>Chord symbols: <c>A7/C#</c>. They say no key and no degree; those of the chord's root are taken as said.</summary>
    ChordSymbols = 2,

    /// <summary>Function letters of the German tradition: <c>T</c>, <c>Sp</c>, <c>D7</c>. They say no inversion.</summary>
    Functions = 4,
}
