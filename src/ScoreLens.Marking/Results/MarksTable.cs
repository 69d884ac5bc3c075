using System.Globalization;
using ScoreLens.Marking.Assignments;
using ScoreLens.Output.Tables;

namespace ScoreLens.Marking.Results;

/// <summary>The class's table, a row a submission: total, points a criterion, counts of each kind of remark.</summary>
public static class MarksTable
{
    /// <summary>Writes the table as CSV. Every kind of remark that the assignment can lead to has its column, so that tables of one assignment fit together.</summary>
    /// <param name="submissions">The submissions in order.</param>
    /// <param name="marker">The marker, for the assignment's criteria and kinds of remarks.</param>
    /// <param name="writer">Where it goes.</param>
    public static void Write(IEnumerable<MarkedSubmission> submissions, Marker marker, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(submissions);
        ArgumentNullException.ThrowIfNull(marker);
        var criteria = CriterionNames.All.Where(c => marker.Assignment.PointsFor(c) > 0).ToList();
        string[] columns =
        [
            "submission", "status", "total", "out_of", .. criteria.Select(c => Column(c.Name())), "late_cost", .. marker.Kinds.Select(Column), "message",
        ];
        CsvText.Write(writer, columns, submissions.Select(s => Row(s, criteria, marker.Kinds)));
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

    private static string[] Row(MarkedSubmission submission, List<Criterion> criteria, IReadOnlyList<string> kinds) =>
    [
        TableText.Safe(submission.Name),
        Name(submission.Status),
        Number(submission.Total),
        Number(submission.OutOf),
        .. criteria.Select(c => Number(submission.Criteria.First(m => m.Criterion == c).Points)),
        Number(submission.LateCost),
        .. kinds.Select(k => submission.Remarks.Count(r => r.Kind == k).ToString(CultureInfo.InvariantCulture)),
        TableText.Safe(submission.Message),
    ];

    private static string Column(string name) => name.Replace('-', '_');

    private static string Number(double points) => points.ToString("0.##", CultureInfo.InvariantCulture);
}
