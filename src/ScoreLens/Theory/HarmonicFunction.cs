namespace ScoreLens.Theory;

/// <summary>What a chord does in its key.</summary>
public enum HarmonicFunction
{
    /// <summary>No function can be named.</summary>
    None,

    /// <summary>Rest: I, and vi or iii where they stand for it.</summary>
    Tonic,

    /// <summary>Prepares the dominant: ii, IV, the Neapolitan, augmented sixths, applied chords of V.</summary>
    Predominant,

    /// <summary>Leads to the tonic: V, viio, the cadential six-four.</summary>
    Dominant,
}
