using System.Globalization;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Wording;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Marking.Results;

/// <summary>The page that goes back to a student.</summary>
public static class StudentFeedback
{
    /// <summary>Writes the page; null where there was nothing to mark.</summary>
    /// <param name="submission">The submission.</param>
    /// <param name="assignment">The assignment.</param>
    /// <param name="isAnonymous">Whether the page leaves out whose work it is.</param>
    public static string? Write(MarkedSubmission submission, Assignment assignment, bool isAnonymous = false)
    {
        ArgumentNullException.ThrowIfNull(submission);
        ArgumentNullException.ThrowIfNull(assignment);
        if (submission.Analysis is not { } analysis) return null;
        (string, string)[] name = isAnonymous ? [] : [("Name", submission.Name)];
        var points = submission.Criteria.Select(c => new FeedbackPoints($"{CriterionWords.Title(c.Criterion)}. {c.Explanation}", c.Points,
            c.OutOf)).ToList();
        if (submission.LateCost > 0) points.Add(new FeedbackPoints("Handed in late", -submission.LateCost, 0));
        if (submission.DifferenceCost > 0) points.Add(new FeedbackPoints("Differences from the score that was set",
            -submission.DifferenceCost, 0));
        var total = $"{Amounts.Number(submission.Total)} of {Amounts.Number(submission.OutOf)}";
        var feedback = new Feedback(
            assignment.Title, SummaryWords.Of(submission), [.. name, ("Points", total), .. Band(submission, assignment),
                .. Tasks(assignment)], points, submission.Shown);
        var document = submission.File?.MusicXml is { } source ? AnnotatedScore.Unlabelled(source) : null;
        return FeedbackPage.Write(feedback, analysis, document?.ToXmlText());
    }

    private static IEnumerable<(string, string)> Band(MarkedSubmission submission, Assignment assignment) =>
        assignment.BandOf(submission.Total) is not { } band ? []
            : [("Band", band.Say.Length == 0 ? band.Name : $"{band.Name}: {band.Say}")];

    private static IEnumerable<(string, string)> Tasks(Assignment assignment) =>
        assignment.Tasks.Select((t, i) => (assignment.Tasks.Count == 1 ? "Task"
            : string.Create(CultureInfo.InvariantCulture, $"Task {i + 1}"), t));
}
