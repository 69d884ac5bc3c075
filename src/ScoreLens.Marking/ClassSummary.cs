namespace ScoreLens.Marking;

/// <summary>How often a kind of fault occurs in a class.</summary>
/// <param name="Kind">The kind of remark.</param>
/// <param name="Count">How many such faults there are in all.</param>
/// <param name="Submissions">In how many submissions.</param>
/// <param name="Points">What they cost together.</param>
public sealed record CommonFault(RemarkKind Kind, int Count, int Submissions, double Points);

/// <summary>A class's work on one assignment as a whole.</summary>
/// <param name="Submissions">How many were handed in.</param>
/// <param name="Marked">How many of them were marked.</param>
/// <param name="Mean">Mean total of those that were marked; 0 where none was.</param>
/// <param name="Median">Median total of those that were marked.</param>
/// <param name="OutOf">What could be earned.</param>
/// <param name="Faults">Kinds of faults, those of most submissions first.</param>
public sealed record ClassSummary(int Submissions, int Marked, double Mean, double Median, double OutOf, IReadOnlyList<CommonFault> Faults)
{
    /// <summary>Sums up a class.</summary>
    public static ClassSummary Of(IReadOnlyCollection<MarkedSubmission> submissions)
    {
        ArgumentNullException.ThrowIfNull(submissions);
        var totals = submissions.Where(s => s.IsMarked).Select(s => s.Total).Order().ToArray();
        var faults =
            from submission in submissions
            from remark in submission.Remarks
            where remark.Severity == Severity.Fault
            group (submission, remark) by remark.Kind into kind
            let students = kind.Select(p => p.submission.Name).Distinct().Count()
            let fault = new CommonFault(kind.Key, kind.Count(), students, kind.Sum(p => p.remark.Points))
            orderby fault.Submissions descending, fault.Count descending, fault.Kind
            select fault;
        return new ClassSummary(
            submissions.Count(s => s.Status != SubmissionStatus.Missing),
            totals.Length,
            totals.Length == 0 ? 0 : totals.Average(),
            totals.Length == 0 ? 0 : (totals[(totals.Length - 1) / 2] + totals[totals.Length / 2]) / 2,
            submissions.Select(s => s.OutOf).FirstOrDefault(),
            [.. faults]);
    }
}
