namespace ScoreLens.Notation;

/// <summary>
/// What a measure says about the way that a player takes through the score: da capo, dal segno, fine, coda. Segno and coda are where a way
/// leads to, the start of the measure; the others are followed at its end. Source: MusicXML 4.0, element <c>sound</c>; common practice.
/// </summary>
internal sealed record RoadSigns
{
    /// <summary>No sign.</summary>
    public static readonly RoadSigns None = new();

    /// <summary>Whether a segno stands here.</summary>
    public bool Segno { get; init; }

    /// <summary>Whether the coda begins here.</summary>
    public bool Coda { get; init; }

    /// <summary>
    /// Whether a coda sign stands here that does not say whether the way leaves here for the coda, or comes to it: the first of two leaves.
    /// </summary>
    public bool CodaSign { get; init; }

    /// <summary>Whether the way goes back to the start of the movement.</summary>
    public bool DaCapo { get; init; }

    /// <summary>Whether the way goes back to the segno.</summary>
    public bool DalSegno { get; init; }

    /// <summary>Whether, after a return, the way leaves for the coda.</summary>
    public bool ToCoda { get; init; }

    /// <summary>Whether, after a return, the movement ends here.</summary>
    public bool Fine { get; init; }

    /// <summary>Whether the return is <em>al fine</em>.</summary>
    public bool AlFine { get; init; }

    /// <summary>Whether the return is <em>al coda</em>.</summary>
    public bool AlCoda { get; init; }

    /// <summary>Whether the way goes back from here.</summary>
    public bool GoesBack => DaCapo || DalSegno;

    /// <summary>Signs that are written in two places, such as two parts.</summary>
    public RoadSigns And(RoadSigns other) => this == None ? other : other == None ? this : new RoadSigns
    {
        Segno = Segno || other.Segno,
        Coda = Coda || other.Coda,
        CodaSign = CodaSign || other.CodaSign,
        DaCapo = DaCapo || other.DaCapo,
        DalSegno = DalSegno || other.DalSegno,
        ToCoda = ToCoda || other.ToCoda,
        Fine = Fine || other.Fine,
        AlFine = AlFine || other.AlFine,
        AlCoda = AlCoda || other.AlCoda,
    };
}
