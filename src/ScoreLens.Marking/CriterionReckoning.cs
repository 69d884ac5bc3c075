using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Labels;
using ScoreLens.Marking.Wording;

namespace ScoreLens.Marking;

/// <summary>Reckons the points of each criterion from the remarks.</summary>
internal static class CriterionReckoning
{
    /// <summary>The points a criterion, in order.</summary>
    public static IReadOnlyList<CriterionMark> Of(Assignment assignment, IReadOnlyList<Remark> remarks, LabelMarks? labels) =>
        [.. CriterionNames.All.Where(c => assignment.PointsFor(c) > 0).Select(c => Of(assignment, c, remarks, labels))];

    private static CriterionMark Of(Assignment assignment, Criterion criterion, IReadOnlyList<Remark> remarks, LabelMarks? labels)
    {
        var outOf = assignment.PointsFor(criterion);
        var faults = remarks.Where(r => r.Criterion == criterion && r.Severity == Severity.Fault).ToList();
        var lost = faults.Sum(r => r.Points);
        // A label or two are not worth points where none was demanded or written.
        var earned = criterion == Criterion.Labels && labels is { Written: 0 } ? 0 : Math.Clamp(outOf - lost, 0, outOf);
        return new CriterionMark(
            criterion, earned, outOf,
            SubmissionWords.Reckoning(criterion, outOf, faults.Count, lost, labels?.Demanded ?? 0, labels?.Written ?? 0, assignment));
    }
}
