using ScoreLens.Marking.Wording;
using ScoreLens.Pages;

namespace ScoreLens.Marking.Results;

/// <summary>What a feedback page says of one piece of student work.</summary>
/// <param name="Title">What was handed in, by whom: any text.</param>
/// <param name="Summary">One or two sentences on the whole; may be empty.</param>
/// <param name="Facts">Name and value of what stands in the head (student, assignment, total), in order.</param>
/// <param name="Points">Points a criterion, in order; may be empty.</param>
/// <param name="Remarks">The remarks in order; they are numbered from 1 in this order on the page and in its score.</param>
internal sealed record Feedback(
    string Title,
    string Summary,
    IReadOnlyList<(string Name, string Value)> Facts,
    IReadOnlyList<FeedbackPoints> Points,
    IReadOnlyList<Remark> Remarks);

/// <summary>The points of one criterion.</summary>
/// <param name="Criterion">What they are for, in words.</param>
/// <param name="Reached">Points reached.</param>
/// <param name="Possible">Points that could be reached.</param>
internal sealed record FeedbackPoints(string Criterion, double Reached, double Possible);

/// <summary>
/// The page that goes back to a student: the points, the engraved score with numbered remarks, and the remarks, each linked to its place.
/// </summary>
internal static class FeedbackPage
{
    /// <summary>Writes the page.</summary>
    /// <param name="feedback">What it says.</param>
    /// <param name="analysis">The analysed score, for the places and for listening.</param>
    /// <param name="musicXml">The student's score as MusicXML text, engraved as it is; null where there is none.</param>
    /// <returns>The HTML document.</returns>
    public static string Write(Feedback feedback, CueAnalysis analysis, string? musicXml)
    {
        ArgumentNullException.ThrowIfNull(feedback);
        ArgumentNullException.ThrowIfNull(analysis);
        var remarks = feedback.Remarks.Select((r, i) => (Remark: r, Number: i + 1)).ToArray();
        PageRemark[] placed =
        [
            .. remarks.Where(r => !r.Remark.IsOfWhole && analysis.Score.Measures.Count > 0).Select(r => new PageRemark(
                r.Number, PageData.Time(r.Remark.Onset), analysis.Score.MeasureAt(r.Remark.Onset).Index,
                    r.Remark.Severity == Severity.Fault, r.Remark.Text)),
        ];
        var body = Markup.Of($"""
            <a class="skip" href="#remarks">Skip to the remarks</a>
            <main>
            <header class="head">
            <p class="kind">Feedback</p>
            <h1>{(feedback.Title.Length == 0 ? "Untitled" : feedback.Title)}</h1>
            <dl class="facts">{feedback.Facts.Select(f => CueBlocks.Fact(f.Name, f.Value))}</dl>
            {Markup.When(feedback.Summary.Length > 0, $"<p class=\"summary\">{feedback.Summary}</p>")}
            </header>
            {Points(feedback.Points)}
            <div class="bench">
            {CueBlocks.Score(musicXml, "Your score", "Press a marked place in the score to see its remark.")}
            {List(remarks)}
            </div>
            </main>
            {CueBlocks.Player()}
            """);
        return PageShell.Write($"{feedback.Title} – feedback", body, PageData.Of(analysis, labels: false, placed), musicXml);
    }

    private static Markup Points(IReadOnlyList<FeedbackPoints> points) => Markup.When(points.Count > 0, $"""
        <section aria-labelledby="points-title"><h2 id="points-title">Points</h2>
        <div class="table-frame" role="region" aria-label="Table of points" tabindex="0"><table class="marks"><caption class="unseen">Points per criterion</caption>
        <thead><tr><th scope="col">Criterion</th><th scope="col" class="n">Reached</th><th scope="col" class="n">Possible</th><th scope="col"><span class="unseen">As a bar</span></th></tr></thead>
        <tbody>{points.Select(p => Markup.Of($"<tr><th scope=\"row\">{p.Criterion}</th><td class=\"n\">{Amounts.Number(p.Reached)}</td><td class=\"n\">{Amounts.Number(p.Possible)}</td><td class=\"meter\"><svg width=\"100%\" height=\"16\" aria-hidden=\"true\" focusable=\"false\"><rect class=\"ground\" x=\"0\" y=\"3\" width=\"100%\" height=\"10\"/><rect class=\"reached\" x=\"0\" y=\"3\" width=\"{PageText.Along(p.Possible <= 0 ? 0 : Math.Clamp(p.Reached / p.Possible, 0, 1))}\" height=\"10\"/></svg></td></tr>"))}</tbody>
        <tfoot><tr><th scope="row">Total</th><td class="n">{Amounts.Number(points.Sum(p => p.Reached))}</td><td class="n">{Amounts.Number(points.Sum(p => p.Possible))}</td><td></td></tr></tfoot></table></div></section>
        """);

    private static Markup List((Remark Remark, int Number)[] remarks) => Markup.Of($"""
        <section id="remarks" class="remarks" aria-labelledby="remarks-title" tabindex="-1">
        <h2 id="remarks-title">Remarks</h2>
        {Markup.When(remarks.Length == 0, $"<p>There are no remarks.</p>")}
        <ol>{remarks.Select(r => Item(r.Remark, r.Number))}</ol>
        </section>
        """);

    private static Markup Part(Remark part) => Markup.Of($"<li>{Amounts.Capital(part.Place)}: {part.Text}</li>");

    private static Markup Item(Remark remark, int number)
    {
        var fault = remark.Severity == Severity.Fault;
        var place = Amounts.Capital(remark.Place);
        return Markup.Of($"""
            <li class="remark {(fault ? "fault" : "notice")}" id="remark-{number}" tabindex="-1">
            <p class="remark-head"><span class="remark-number" aria-hidden="true">{number}</span>
            {(remark.IsOfWhole
                ? Markup.Of($"<span>{place}</span>")
                : Markup.Of($"<button type=\"button\" class=\"go\" data-remark=\"{number}\" data-time=\"{PageData.Time(remark.Onset):0.#####}\">{place}</button>"))}
            <span class="remark-kind">{RemarkWords.Kind(remark.Kind)}{(remark.Voices.Count == 0 ? "" : " · " + string.Join(", ", remark.Voices))}</span>
            {Markup.When(remark.Points > 0, $"<span class=\"points\">−{Amounts.Number(remark.Points)}</span>")}</p>
            <p>{remark.Text}</p>
            {Markup.When(remark.Advice.Length > 0, $"<p class=\"advice\">{remark.Advice}</p>")}
            {Markup.When(remark.Parts.Count > 0, $"<p>From the same mistake:</p><ul class=\"parts\">{remark.Parts.Select(Part)}</ul>")}
            {Markup.When(remark.TeacherComment.Length > 0, $"<p class=\"teacher\">The teacher: {remark.TeacherComment}</p>")}
            </li>
            """);
    }
}
