using System.Globalization;
using ScoreLens.Marking;
using ScoreLens.Marking.Results;

namespace ScoreLens.Cli.Marking;

/// <summary>What <c>mark</c> prints: a line a submission, and what is common in the class.</summary>
internal static class MarkReport
{
    private const int MostKinds = 3, MostCommon = 10;

    /// <summary>The line of a submission.</summary>
    public static string Line(MarkedSubmission submission)
    {
        var head = $"{submission.Name,-24} {MarksTable.Name(submission.Status),-10}";
        if (!submission.IsMarked) return $"{head} {submission.Note}";
        var faults = submission.Remarks.Where(r => r.Severity == Severity.Fault).GroupBy(r => r.Kind)
            .OrderByDescending(g => g.Sum(r => r.Points));
        var told = string.Join(", ", faults.Take(MostKinds).Select(g => $"{g.Count()} {g.Key.Name()}"));
        var line = string.Create(CultureInfo.InvariantCulture, $"{head} {submission.Total,6:0.##} of {submission.OutOf:0.##}  {told}");
        return string.Join("  ", new[] { line.TrimEnd(), submission.Note }.Where(t => t.Length > 0));
    }

    /// <summary>The class as a whole.</summary>
    public static void Summary(ClassSummary summary, string folder, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{summary.Submissions} handed in, {summary.Marked} marked; mean {summary.Mean:0.#}, median {summary.Median:0.#} of "
                + $"{summary.OutOf:0.##} points -> {folder}"));
        foreach (var fault in summary.Faults.Take(MostCommon))
        {
            var where = $"{fault.Submissions} submission{(fault.Submissions == 1 ? "" : "s")}";
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {fault.Kind.Name(),-32} {fault.Count,3} in {where}"));
        }
    }
}
