namespace ScoreLens.Marking.Assignments;

/// <summary>How much remarks may cost together.</summary>
/// <param name="Kinds">Points that remarks of a kind cost at most.</param>
/// <param name="Criteria">Points that a criterion loses at most.</param>
/// <param name="Measure">Points that the remarks of one measure cost at most; null for no limit.</param>
public sealed record CostLimits(IReadOnlyDictionary<RemarkKind, double> Kinds, IReadOnlyDictionary<Criterion, double> Criteria,
    double? Measure)
{
    /// <summary>No limits.</summary>
    public static CostLimits None { get; } = new(new Dictionary<RemarkKind, double>(), new Dictionary<Criterion, double>(), null);

    /// <summary>Whether there is no limit.</summary>
    public bool IsEmpty => Kinds.Count == 0 && Criteria.Count == 0 && Measure is null;
}

/// <summary>A band of a rubric.</summary>
/// <param name="From">From what share of the points on, in per cent, 0..100.</param>
/// <param name="Name">Its name: a grade, or a word.</param>
/// <param name="Say">What it means, for the student; may be empty.</param>
public sealed record RubricBand(double From, string Name, string Say);
