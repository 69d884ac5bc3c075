namespace ScoreLens.Theory;

/// <summary>The quality of a triad or a seventh chord, and the three augmented sixths.</summary>
public enum ChordQuality
{
    /// <summary>A major triad.</summary>
    Major,

    /// <summary>A minor triad.</summary>
    Minor,

    /// <summary>A diminished triad.</summary>
    Diminished,

    /// <summary>An augmented triad.</summary>
    Augmented,

    /// <summary>A major triad with a major seventh.</summary>
    MajorSeventh,

    /// <summary>A major triad with a minor seventh.</summary>
    DominantSeventh,

    /// <summary>A minor triad with a minor seventh.</summary>
    MinorSeventh,

    /// <summary>A diminished triad with a minor seventh.</summary>
    HalfDiminishedSeventh,

    /// <summary>A diminished triad with a diminished seventh.</summary>
    DiminishedSeventh,

    /// <summary>An augmented triad with a minor seventh.</summary>
    AugmentedSeventh,

    /// <summary>An augmented triad with a major seventh.</summary>
    AugmentedMajorSeventh,

    /// <summary>A minor triad with a major seventh.</summary>
    MinorMajorSeventh,

    /// <summary>A major third and an augmented sixth above the lowest tone.</summary>
    ItalianSixth,

    /// <summary>A major third, an augmented fourth and an augmented sixth above the lowest tone.</summary>
    FrenchSixth,

    /// <summary>A major third, a perfect fifth and an augmented sixth above the lowest tone.</summary>
    GermanSixth,
}

/// <summary>What each <see cref="ChordQuality"/> is made of.</summary>
public static class ChordQualities
{
    /// <summary>
    /// The members above the root, in fifths, in the order root, third, fifth, seventh. An augmented sixth is given above
    /// its raised fourth degree, the bass (the flat sixth) first, as figures count its inversions: Italian b6 1 #4; French
    /// b6 1 2 #4; German b6 1 b3 #4.
    /// </summary>
    public static ReadOnlySpan<int> Members(this ChordQuality quality) => quality switch
    {
        ChordQuality.Major => [0, 4, 1],
        ChordQuality.Minor => [0, -3, 1],
        ChordQuality.Diminished => [0, -3, -6],
        ChordQuality.Augmented => [0, 4, 8],
        ChordQuality.MajorSeventh => [0, 4, 1, 5],
        ChordQuality.DominantSeventh => [0, 4, 1, -2],
        ChordQuality.MinorSeventh => [0, -3, 1, -2],
        ChordQuality.HalfDiminishedSeventh => [0, -3, -6, -2],
        ChordQuality.DiminishedSeventh => [0, -3, -6, -9],
        ChordQuality.AugmentedSeventh => [0, 4, 8, -2],
        ChordQuality.AugmentedMajorSeventh => [0, 4, 8, 5],
        ChordQuality.MinorMajorSeventh => [0, -3, 1, 5],
        ChordQuality.ItalianSixth => [-10, -6, 0],
        ChordQuality.FrenchSixth => [-10, -6, -4, 0],
        ChordQuality.GermanSixth => [-10, -6, -9, 0],
        _ => throw new ArgumentOutOfRangeException(nameof(quality), quality, "Unknown chord quality."),
    };

    /// <summary>Whether the chord has four members that include a seventh above the root.</summary>
    public static bool IsSeventh(this ChordQuality quality) =>
        quality is >= ChordQuality.MajorSeventh and <= ChordQuality.MinorMajorSeventh;

    /// <summary>Whether this is an Italian, French or German sixth.</summary>
    public static bool IsAugmentedSixth(this ChordQuality quality) => quality >= ChordQuality.ItalianSixth;

    /// <summary>Whether the numeral is written in upper case: the third is major.</summary>
    public static bool HasMajorThird(this ChordQuality quality) => !quality.IsAugmentedSixth() && quality.Members()[1] == 4;

    /// <summary>
    /// The suffix of a chord symbol: <c>""</c>, <c>m</c>, <c>dim</c>, <c>aug</c>, <c>maj7</c>, <c>7</c>, <c>m7</c>, <c>m7b5</c>,
    /// <c>dim7</c>, <c>7#5</c>, <c>maj7#5</c>, <c>mMaj7</c>. An augmented sixth sounds as a seventh chord on its flat sixth.
    /// </summary>
    public static string SymbolSuffix(this ChordQuality quality) => quality switch
    {
        ChordQuality.Major => "",
        ChordQuality.Minor => "m",
        ChordQuality.Diminished => "dim",
        ChordQuality.Augmented => "aug",
        ChordQuality.MajorSeventh => "maj7",
        ChordQuality.DominantSeventh => "7",
        ChordQuality.MinorSeventh => "m7",
        ChordQuality.HalfDiminishedSeventh => "m7b5",
        ChordQuality.DiminishedSeventh => "dim7",
        ChordQuality.AugmentedSeventh => "7#5",
        ChordQuality.AugmentedMajorSeventh => "maj7#5",
        ChordQuality.MinorMajorSeventh => "mMaj7",
        ChordQuality.ItalianSixth or ChordQuality.GermanSixth => "7",
        ChordQuality.FrenchSixth => "7b5",
        _ => throw new ArgumentOutOfRangeException(nameof(quality), quality, "Unknown chord quality."),
    };
}
