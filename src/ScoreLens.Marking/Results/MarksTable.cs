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
        ];
        CsvText.Write(writer, columns, submissions.Select(s => Row(s, criteria, kinds, later)));
    }

    /// <summary>The name of a status in the table: <c>marked</c>, <c>late</c>, <c>empty</c>, <c>unreadable</c>, <c>wrong-file</c>, <c>wrong-piece</c>.</summary>
    public static string Name(SubmissionStatus status) => status switch
    {
        SubmissionStatus.Marked => "marked",
        SubmissionStatus.Late => "late",
        SubmissionStatus.Empty => "empty",
        SubmissionStatus.Unreadable => "unreadable",
        SubmissionStatus.WrongFile => "wrong-file",
        SubmissionStatus.WrongPiece => "wrong-piece",
        _ => throw new ArgumentOutOfRangeException(nameof(status), status, "Unknown status."),
    };

    private static string[] Row(MarkedSubmission submission, List<Criterion> criteria, List<RemarkKind> kinds, List<RemarkKind> later) =>
    [
        submission.Name,
        Name(submission.Status),
        Amounts.Number(submission.Total),
        Amounts.Number(submission.OutOf),
        .. criteria.Select(c => Amounts.Number(submission.Criteria.First(m => m.Criterion == c).Points)),
        Amounts.Number(submission.LateCost),
        .. kinds.Select(k => Count(submission, k)),
        submission.Message,
        .. later.Select(k => Count(submission, k)),
    ];

    private static string Count(MarkedSubmission submission, RemarkKind kind) =>
        submission.Remarks.Count(r => r.Kind == kind).ToString(CultureInfo.InvariantCulture);

    private static string Column(string name) => name.Replace('-', '_');
}
