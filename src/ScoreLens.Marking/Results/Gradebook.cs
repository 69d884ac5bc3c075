using ScoreLens.Marking.Wording;
using ScoreLens.Output.Tables;

namespace ScoreLens.Marking.Results;

/// <summary>The table that goes into a gradebook: identifier, points, comment.</summary>
public static class Gradebook
{
    /// <summary>Writes a row a submission; the name stands for an identifier that is not known, and points are empty where nothing was marked.</summary>
    public static void Write(IEnumerable<MarkedSubmission> submissions, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(submissions);
        CsvText.Write(writer, ["identifier", "points", "comment"], submissions.Select(Row));
    }

    private static string[] Row(MarkedSubmission submission) =>
    [
        submission.Identifier.Length > 0 ? submission.Identifier : submission.Name,
        submission.IsMarked ? Amounts.Number(submission.Total) : "",
        submission.IsMarked ? SummaryWords.Of(submission) : submission.Message,
    ];
}
