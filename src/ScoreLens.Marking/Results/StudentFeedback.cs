using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Marking.Assignments;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Marking.Results;

/// <summary>The page that goes back to a student.</summary>
public static class StudentFeedback
{
    /// <summary>Writes the page; null where there was nothing to mark.</summary>
    public static string? Write(MarkedSubmission submission, Assignment assignment)
    {
        ArgumentNullException.ThrowIfNull(submission);
        ArgumentNullException.ThrowIfNull(assignment);
        if (submission.Analysis is not { } analysis) return null;
        var points = submission.Criteria.Select(c => new FeedbackPoints($"{Capital(Words(c.Criterion.Name()))}. {c.Explanation}", c.Points, c.OutOf)).ToList();
        if (submission.LateCost > 0) points.Add(new FeedbackPoints("Handed in late", -submission.LateCost, 0));
        var feedback = new Feedback(
            assignment.Title, Summary(submission), [("Name", submission.Name), ("Points", $"{Number(submission.Total)} of {Number(submission.OutOf)}"), .. Tasks(assignment)],
            points, submission.Remarks);
        var document = submission.File?.MusicXml is { } source ? AnnotatedScore.Unlabelled(source) : null;
        return FeedbackPage.Write(feedback, analysis, document?.Xml.Root?.ToString(SaveOptions.DisableFormatting));
    }

    private static IEnumerable<(string, string)> Tasks(Assignment assignment) =>
        assignment.Tasks.Select((t, i) => (assignment.Tasks.Count == 1 ? "Task" : string.Create(CultureInfo.InvariantCulture, $"Task {i + 1}"), t));

    /// <summary>What went well, and the one thing to do next.</summary>
    private static string Summary(MarkedSubmission submission)
    {
        var sentences = new List<string>();
        if (submission.Message.Length > 0) sentences.Add(submission.Message);
        var faults = submission.Remarks.Where(r => r.Severity == Severity.Fault).ToList();
        var clean = submission.Criteria.Where(c => c.OutOf > 0 && c.Points >= c.OutOf).Select(c => Words(c.Criterion.Name())).ToList();
        var share = submission.OutOf <= 0 ? 0 : submission.Total / submission.OutOf;
        if (faults.Count == 0) sentences.Add("Well done: there is nothing to correct.");
        else if (clean.Count > 0) sentences.Add($"Well done in {string.Join(" and ", clean)}: all the points are yours.");
        else if (share >= 0.8) sentences.Add("Good work, with a few things to correct.");
        else if (share >= 0.5) sentences.Add("Much of this is right.");
        var next = faults.GroupBy(r => r.Kind).OrderByDescending(g => g.Sum(r => r.Points)).FirstOrDefault();
        if (next is not null)
        {
            var places = next.Where(r => !r.IsOfWhole).Select(r => $"m. {r.Measure}").Distinct().Take(4).ToList();
            var where = places.Count == 0 ? "" : $" ({string.Join(", ", places)})";
            sentences.Add($"Do this next: {Words(next.Key)}, {(next.Count() == 1 ? "once" : $"{next.Count()} times")}{where}. {next.First().Advice}".Trim());
        }

        return string.Join(' ', sentences);
    }

    private static string Words(string name) => name.Replace('-', ' ');

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Number(double points) => points.ToString("0.##", CultureInfo.InvariantCulture);
}
