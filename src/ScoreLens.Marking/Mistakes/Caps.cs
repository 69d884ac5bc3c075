using ScoreLens.Marking.Assignments;

namespace ScoreLens.Marking.Mistakes;

/// <summary>Holds what remarks cost together below the limits that an assignment sets.</summary>
internal static class Caps
{
    private const double Tiny = 1e-9;

    /// <summary>The remarks, those past a limit costing what is left of it. What the teacher decided is left as it is.</summary>
    public static IReadOnlyList<Remark> Apply(IReadOnlyList<Remark> remarks, CostLimits limits)
    {
        if (limits.IsEmpty) return remarks;
        var spent = new Dictionary<object, double>();
        return [.. remarks.Select(r => r.Points <= 0 || r.IsDecided ? r : Capped(r, limits, spent))];
    }

    private static Remark Capped(Remark remark, CostLimits limits, Dictionary<object, double> spent)
    {
        var points = remark.Points;
        var bounds = new List<(object Key, double Most)>();
        if (limits.Kinds.TryGetValue(remark.Kind, out var ofKind)) bounds.Add((remark.Kind, ofKind));
        if (limits.Criteria.TryGetValue(remark.Criterion, out var ofCriterion)) bounds.Add((remark.Criterion, ofCriterion));
        if (limits.Measure is { } ofMeasure && !remark.IsOfWhole) bounds.Add((remark.Measure, ofMeasure));
        foreach (var (key, most) in bounds) points = Math.Min(points, Math.Max(0, most - spent.GetValueOrDefault(key)));
        foreach (var (key, _) in bounds) spent[key] = spent.GetValueOrDefault(key) + points;
        return remark.Points - points < Tiny ? remark : remark with { Points = points, IsCapped = true };
    }
}
