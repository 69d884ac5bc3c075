using System.Globalization;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Wording;
using ScoreLens.Output.Tables;

namespace ScoreLens.Marking.Results;

/// <summary>The class's table, a row a submission: total, points a criterion, counts of each kind of remark.</summary>
public static class MarksTable
{
    private const RemarkKind LastEarlyKind = RemarkKind.TooPlain;

    /// <summary>Writes the table as CSV. Every kind of remark that the assignment can lead to has its column, so that tables of one assignment fit together.</summary>
    /// <param name="submissions">The submissions in order.</param>
    /// <param name="marker">The marker, for the assignment's criteria and kinds of remarks.</param>
    /// <param name="writer">Where it goes.</param>
    public static void Write(IEnumerable<MarkedSubmission> submissions, Marker marker, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(submissions);
        ArgumentNullException.ThrowIfNull(marker);
        var criteria = CriterionNames.All.Where(c => marker.Assignment.PointsFor(c) > 0).ToList();
        // Columns that came later stand at the end, so that tables of earlier releases keep their places.
        var kinds = marker.Kinds.Where(k => k <= LastEarlyKind).ToList();
        var later = marker.Kinds.Where(k => k > LastEarlyKind).ToList();
        string[] columns =
        [
            "submission", "status", "total", "out_of", .. criteria.Select(c => Column(c.Name())), "late_cost",
            .. kinds.Select(k => Column(k.Name())), "message", .. later.Select(k => Column(k.Name())),
            "reason", "identifier", "band", "difference_cost", "signed",
        ];
        CsvText.Write(writer, columns, submissions.Select(s => Row(s, marker.Assignment, criteria, kinds, later)));
    }

    /// <summary>
    /// The name of a status in the table: <c>marked</c>, <c>late</c>, <c>missing</c>, or <c>look</c> for what the teacher has to look at
    /// because it could not be marked.
    /// </summary>
    public static string Name(SubmissionStatus status) => status switch
    {
        SubmissionStatus.Marked => "marked",
        SubmissionStatus.Late => "late",
        SubmissionStatus.Missing => "missing",
        _ => "look",
    };

    /// <summary>
    /// Why a submission was not marked: <c>empty</c>, <c>unreadable</c>, <c>wrong-file</c>, <c>wrong-piece</c>, <c>missing</c>; empty where it was.
    /// </summary>
    public static string Reason(SubmissionStatus status) => status switch
    {
        SubmissionStatus.Empty => "empty",
        SubmissionStatus.Unreadable => "unreadable",
        SubmissionStatus.WrongFile => "wrong-file",
        SubmissionStatus.WrongPiece => "wrong-piece",
        SubmissionStatus.Missing => "missing",
        _ => "",
    };

    private static string[] Row(
        MarkedSubmission submission, Assignment assignment, List<Criterion> criteria, List<RemarkKind> kinds, List<RemarkKind> later) =>
    [
        TableText.Safe(submission.Name),
        Name(submission.Status),
        .. Cells(submission, Amounts.Number(submission.Total)),
        Amounts.Number(submission.OutOf),
        .. Cells(submission, [.. criteria.Select(c => Amounts.Number(submission.Criteria.First(m => m.Criterion == c).Points))]),
        .. Cells(submission, Amounts.Number(submission.LateCost)),
        .. Cells(submission, [.. kinds.Select(k => Count(submission, k))]),
        TableText.Safe(submission.Note),
        .. Cells(submission, [.. later.Select(k => Count(submission, k))]),
        Reason(submission.Status),
        TableText.Safe(submission.Identifier),
        submission.IsMarked ? assignment.BandOf(submission.Total)?.Name ?? "" : "",
        .. Cells(submission, Amounts.Number(submission.DifferenceCost)),
        submission.IsSigned ? "yes" : "",
    ];

    // What was not marked is no 0: its cells are empty.
    private static string[] Cells(MarkedSubmission submission, params string[] cells) =>
        submission.IsMarked ? cells : [.. cells.Select(_ => "")];

    private static string Count(MarkedSubmission submission, RemarkKind kind) =>
        submission.Shown.Count(r => r.Kind == kind).ToString(CultureInfo.InvariantCulture);

    private static string Column(string name) => name.Replace('-', '_');
}
