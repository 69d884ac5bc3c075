using System.Globalization;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Decisions;

/// <summary>
/// What a teacher decided about the remarks of a class, applied to a new marking of it. Submissions may be decided on several threads at a
/// time; <see cref="Unused"/> is complete when all of them are done.
/// </summary>
/// <param name="rows">The rows of the table.</param>
/// <param name="assignment">The assignment, for its criteria and its comments to reuse.</param>
public sealed class TeacherDecisions(IReadOnlyList<RemarkDecision> rows, Assignment assignment)
{
    private readonly HashSet<RemarkDecision> _applied = new(ReferenceEqualityComparer.Instance);
    private readonly Lock _lock = new();

    /// <summary>No decisions.</summary>
    public static TeacherDecisions None(Assignment assignment) => new([], assignment);

    /// <summary>How many rows decide something.</summary>
    public int Count => rows.Count(r => r.IsDecided);

    /// <summary>Rows that decide something about a remark that is not made any more, of submissions that were marked.</summary>
    public IReadOnlyList<RemarkDecision> Unused => [.. rows.Where(r => r.IsDecided && !_applied.Contains(r))];

    /// <summary>A submission with what was decided about it.</summary>
    public MarkedSubmission Apply(MarkedSubmission submission)
    {
        ArgumentNullException.ThrowIfNull(submission);
        var own = rows.Where(r => r.IsDecided && r.Submission == submission.Name).ToList();
        if (own.Count == 0 || !submission.IsMarked) return submission;
        var open = own.Where(r => !r.IsOwn).ToList();
        var remarks = new List<Remark>();
        foreach (var remark in submission.Remarks)
        {
            var row = open.Find(r => IsAbout(r, remark));
            if (row is not null) open.Remove(row);
            remarks.Add(row is null ? remark : Decided(remark, row));
        }

        remarks.AddRange(own.Where(r => r.IsOwn).Select(r => Own(submission, r)));
        lock (_lock) _applied.UnionWith(own.Except(open));
        return submission.With(assignment, [.. remarks.OrderBy(r => r.IsOfWhole ? 0 : 1).ThenBy(r => r.Onset)]);
    }

    private static bool IsAbout(RemarkDecision row, Remark remark) =>
        row.Rule == remark.RuleName && row.Measure == remark.Measure && row.Beat == RemarkTable.BeatCell(remark)
        && row.Voices == RemarkTable.VoicesCell(remark);

    private Remark Decided(Remark remark, RemarkDecision row)
    {
        var points = row.State == RemarkState.Struck ? 0 : row.HasOtherPoints ? row.Points : remark.Points;
        return remark with
        {
            Points = points,
            ProposedPoints = remark.Points,
            IsDecided = true,
            State = row.State,
            TeacherText = row.HasOtherText ? row.Text : null,
            TeacherComment = Comment(row.Comment.Length > 0 ? row.Comment : remark.TeacherComment),
            Severity = points > 0 ? Severity.Fault : row.State == RemarkState.Struck || row.HasOtherPoints ? Severity.Notice
                : remark.Severity,
        };
    }

    private Remark Own(MarkedSubmission submission, RemarkDecision row)
    {
        var criterion = CriterionNames.All.Where(c => assignment.PointsFor(c) > 0).OrderBy(c => c.Name() == row.Rule ? 0 : 1).First();
        var facts = new TeacherFacts(criterion, row.Text.Length > 0 ? row.Text : Comment(row.Comment));
        var score = submission.Analysis!.Score;
        var measure = row.Measure.Length == 0 ? null : score.Measures.FirstOrDefault(m => m.Number == row.Measure);
        var remark = measure is null
            ? Remark.OfWhole(RemarkKind.TeacherRemark, facts)
            : Remark.At(score, measure.OnsetOfBeat(Fraction.TryParse(row.Beat, CultureInfo.InvariantCulture, out var beat) ? beat : 1),
                RemarkKind.TeacherRemark, facts);
        return remark with
        {
            Points = row.Points,
            IsDecided = true,
            State = row.State,
            TeacherComment = row.Text.Length > 0 ? Comment(row.Comment) : "",
            Severity = row.Points > 0 ? Severity.Fault : Severity.Notice,
        };
    }

    // @name stands for a comment of the assignment that is used again and again.
    private string Comment(string text) =>
        text is ['@', .. var name] && assignment.Comments.TryGetValue(name, out var comment) ? comment : text;
}
