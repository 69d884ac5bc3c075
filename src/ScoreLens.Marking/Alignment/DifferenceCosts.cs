namespace ScoreLens.Marking.Alignment;

/// <summary>What differences from the score that was set cost; 0 or more each.</summary>
/// <param name="MissingMeasure">Points a missing measure; null for its share of all points, by length.</param>
/// <param name="AddedMeasure">Points an added measure, a pickup among them.</param>
/// <param name="RepeatedSection">Points a section that is written out again.</param>
/// <param name="Transposed">Points for another key.</param>
/// <param name="NoteValues">Points for other note values.</param>
public sealed record DifferenceCosts(double? MissingMeasure, double AddedMeasure, double RepeatedSection, double Transposed,
    double NoteValues)
{
    /// <summary>A missing measure costs its share; everything else is said and costs nothing.</summary>
    public static DifferenceCosts Default { get; } = new(null, 0, 0, 0, 0);

    /// <summary>What a difference costs, where all points together are <paramref name="outOf"/>.</summary>
    internal double Of(Difference difference, double outOf) => difference switch
    {
        MissingMeasures missing => MissingMeasure is { } each ? each * missing.Measures.Count : outOf * missing.Share,
        AddedMeasures added => AddedMeasure * added.Measures.Count,
        Alignment.RepeatedSection => RepeatedSection,
        Alignment.Transposed => Transposed,
        OtherNoteValues => NoteValues,
        _ => 0,
    };
}
