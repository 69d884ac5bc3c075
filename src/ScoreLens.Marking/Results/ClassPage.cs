using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Wording;
using ScoreLens.Pages;

namespace ScoreLens.Marking.Results;

/// <summary>The page for the teacher: which faults are common in the class, and every submission with its points.</summary>
public static class ClassPage
{
    /// <summary>Writes the page.</summary>
    /// <param name="assignment">The assignment.</param>
    /// <param name="submissions">The submissions in order.</param>
    /// <param name="feedbackOf">Address of a submission's feedback page, relative to this page; null where it has none.</param>
    /// <returns>The HTML document.</returns>
    public static string Write(Assignment assignment, IReadOnlyList<MarkedSubmission> submissions, Func<MarkedSubmission,
        string?> feedbackOf)
    {
        ArgumentNullException.ThrowIfNull(assignment);
        ArgumentNullException.ThrowIfNull(submissions);
        ArgumentNullException.ThrowIfNull(feedbackOf);
        var summary = ClassSummary.Of(submissions);
        var criteria = CriterionNames.All.Where(c => assignment.PointsFor(c) > 0).ToList();
        var body = Markup.Of($"""
            <main>
            <header class="head">
            <p class="kind">Class summary</p>
            <h1>{assignment.Title}</h1>
            <dl class="facts">
            {CueBlocks.Fact("Handed in", $"{summary.Submissions}")}
            {CueBlocks.Fact("Marked", $"{summary.Marked}")}
            {CueBlocks.Fact("Mean", $"{Amounts.Number(summary.Mean)} of {Amounts.Number(summary.OutOf)}")}
            {CueBlocks.Fact("Median", Amounts.Number(summary.Median))}
            </dl>
            </header>
            <section aria-labelledby="faults-title">
            <h2 id="faults-title">Common faults</h2>
            {(summary.Faults.Count == 0 ? Markup.Of($"<p>No fault was found.</p>") : Faults(summary))}
            </section>
            <section aria-labelledby="marks-title">
            <h2 id="marks-title">Submissions</h2>
            <div class="table-frame" role="region" aria-label="Table of submissions" tabindex="0"><table class="sortable"><caption class="unseen">Points of each submission</caption>
            <thead><tr><th scope="col">Submission</th><th scope="col">Status</th><th scope="col" class="n">Total</th>
            {criteria.Select(c => Markup.Of($"<th scope=\"col\" class=\"n\">{CriterionWords.Name(c)}</th>"))}
            <th scope="col" class="n">Faults</th><th scope="col">Note</th></tr></thead>
            <tbody>{submissions.Select(s => Row(s, criteria, feedbackOf(s)))}</tbody></table></div>
            </section>
            {ByRule(submissions)}
            </main>
            """);
        return PageShell.Write($"{assignment.Title} – class summary", body, null);
    }

    // Every remark of the class under its rule, so that a rule is judged once for all.
    private static Markup ByRule(IReadOnlyList<MarkedSubmission> submissions)
    {
        var rules =
            from submission in submissions
            from remark in submission.Shown
            where remark.Severity == Severity.Fault
            group (Submission: submission, Remark: remark) by remark.Kind into rule
            orderby rule.Count() descending, rule.Key
            select rule;
        return Markup.Of($"""
            <section aria-labelledby="rules-title">
            <h2 id="rules-title">Remarks by rule</h2>
            {rules.Select(r => Markup.Of($"<details><summary>{Amounts.Capital(RemarkWords.Kind(r.Key))} ({r.Count()})</summary><ul>{r.Select(p => Line(p.Submission, p.Remark))}</ul></details>"))}
            </section>
            """);
    }

    private static Markup Line(MarkedSubmission submission, Remark remark) => Markup.Of(
        $"<li><strong>{submission.Name}</strong>, {remark.Place}: {remark.Text} ({Amounts.Points(remark.Points)})</li>");

    private static Markup Faults(ClassSummary summary) => Markup.Of($"""
        <p class="hint">The bars show in how many of the {summary.Marked} marked submissions a fault occurs.</p>
        <ul class="bars">{summary.Faults.Select(f => Markup.Of($"""
            <li><span class="cue-name">{RemarkWords.Kind(f.Kind)}</span>
            <svg width="100%" height="24" role="img" aria-label="{RemarkWords.Kind(f.Kind)}: in {f.Submissions} submissions, {f.Count} "
                + "in all"><rect class="ground" x="0" y="4" width="100%" height="16"/><rect class="reached" x="0" y="4" width="{PageText.Along((double)f.Submissions / Math.Max(1, summary.Marked))}" height="16"/></svg>
            <span class="n">{f.Submissions} ({f.Count}×)</span></li>
            """))}</ul>
        """);

    // What was not marked is no 0.
    private static string Points(MarkedSubmission submission, double points) => submission.IsMarked ? Amounts.Number(points) : "";

    private static Markup Row(MarkedSubmission submission, List<Criterion> criteria, string? feedback) => Markup.Of($"""
        <tr><th scope="row">{(feedback is null ? Markup.Text(submission.Name) : Markup.Of($"<a href=\"{feedback}\">{submission.Name}</a>"))}</th><td>{MarksTable.Name(submission.Status)}</td>
        <td class="n"><b>{Points(submission, submission.Total)}</b></td>
        {criteria.Select(c => Markup.Of($"<td class=\"n\">{Points(submission, submission.Criteria.First(m => m.Criterion == c).Points)}</td>"))}
        <td class="n">{submission.Remarks.Count(r => r.Severity == Severity.Fault)}</td><td>{submission.Note}</td></tr>
        """);
}
