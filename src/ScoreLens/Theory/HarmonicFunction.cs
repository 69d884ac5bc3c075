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

/// <summary>The functions' names in tables.</summary>
public static class HarmonicFunctions
{
    /// <summary><c>tonic</c>, <c>predominant</c>, <c>dominant</c>, or empty.</summary>
    public static string Name(this HarmonicFunction function) => function switch
    {
        HarmonicFunction.None => "",
        HarmonicFunction.Tonic => "tonic",
        HarmonicFunction.Predominant => "predominant",
        HarmonicFunction.Dominant => "dominant",
        _ => throw new ArgumentOutOfRangeException(nameof(function), function, "Unknown function."),
    };
}
