using System.Globalization;
using ScoreLens.Marking.Wording;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;

namespace ScoreLens.Marking.Decisions;

/// <summary>
/// The table of all remarks of a class, which a teacher edits and hands back: points, texts and comments changed, remarks struck out or
/// signed off, own remarks added as rows whose last two columns are empty.
/// </summary>
public static class RemarkTable
{
    private static readonly string[] Columns =
        ["submission", "measure", "beat", "voices", "rule", "points", "text", "comment", "decision", "proposed_points", "proposed_text"];

    private static readonly (string Name, RemarkState State)[] States =
        [("", RemarkState.Open), ("struck", RemarkState.Struck), ("signed", RemarkState.SignedOff)];

    /// <summary>Writes every remark of every submission, what the teacher decided among the cells.</summary>
    public static void Write(IEnumerable<MarkedSubmission> submissions, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(submissions);
        CsvText.Write(writer, Columns, submissions.SelectMany(s => s.Remarks.Select(r => Row(s, r))));
    }

    /// <summary>Reads a table that was handed back.</summary>
    /// <exception cref="ScoreFormatException">A column is missing, or a cell does not say what it should; the place names the
    /// line.</exception>
    public static IReadOnlyList<RemarkDecision> Read(TextReader reader)
    {
        var line = 1;
        return CsvText.Read(reader, ["submission", "measure", "beat", "rule", "points", "text"], row => new RemarkDecision(
            row.Text("submission"), row.Text("measure"), row.Text("beat"), row.Text("voices"), row.Text("rule"),
            Points(row, "points") ?? 0, row.Text("text"), row.Text("comment"), StateOf(row),
            Points(row, "proposed_points"), row.Text("proposed_text"), ++line));
    }

    /// <summary>The cell of a remark's beat.</summary>
    internal static string BeatCell(Remark remark) => remark.IsOfWhole ? "" : remark.Beat.ToString();

    /// <summary>The cell of a remark's voices.</summary>
    internal static string VoicesCell(Remark remark) => string.Join(' ', remark.Voices);

    private static string[] Row(MarkedSubmission submission, Remark remark) =>
    [
        submission.Name, remark.Measure, BeatCell(remark), VoicesCell(remark), remark.RuleName, Amounts.Number(PointsCell(remark)),
            remark.Text,
        remark.IsOwn || remark.ProposedPoints is not null ? remark.TeacherComment : "", Array.Find(States, s => s.State == remark.State)
            .Name,
        remark.IsOwn ? "" : Amounts.Number(remark.ProposedPoints ?? remark.Points), remark.IsOwn ? "" : remark.ProposedText,
    ];

    // What is struck out keeps its points in the table, so that it can be taken back.
    private static double PointsCell(Remark remark) =>
        remark.State == RemarkState.Struck ? remark.ProposedPoints ?? remark.Points : remark.Points;

    private static double? Points(CsvRow row, string column)
    {
        if (!row.Has(column)) return null;
        const NumberStyles style = NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign;
        return double.TryParse(row.Text(column), style, CultureInfo.InvariantCulture, out var points) && points >= 0
            ? points
            : throw row.Wrong(column, "a number of points, 0 or more, with a point for decimals");
    }

    private static RemarkState StateOf(CsvRow row)
    {
        var place = Array.FindIndex(States, s => s.Name == row.Text("decision"));
        return place >= 0 ? States[place].State : throw row.Wrong("decision", "struck, signed or empty");
    }
}
