using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Output.Tables;
using ScoreLens.Reharmonising.Wording;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Writing;

/// <summary>A row of the table of alternatives.</summary>
/// <param name="Cue">The cue's name.</param>
/// <param name="Measure">The printed number of the measure in which the chord begins.</param>
/// <param name="Beat">The beat on which it begins, from 1.</param>
/// <param name="InsteadOf">The numeral that stands there.</param>
/// <param name="Alternative">The alternative.</param>
public sealed record AlternativeRow(string Cue, string Measure, Fraction Beat, Numeral InsteadOf, Alternative Alternative)
{
    /// <summary>Number of the movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>
    /// Where the chord ends in another chord than it begins in, or divides one: the place of the chord whose end is its end
    /// (<c>12:3</c>); empty where it has the borders of the chord that stands there.
    /// </summary>
    public string To { get; init; } = "";

    /// <summary>The row of an alternative for a chord of an analysis.</summary>
    public static AlternativeRow Of(string cue, CueAnalysis analysis, TaggedChord insteadOf, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(insteadOf);
        var measure = analysis.Score.MeasureAt(insteadOf.Reading.Onset);
        return new AlternativeRow(cue, measure.Number, measure.BeatAt(insteadOf.Reading.Onset), insteadOf.Reading.Numeral
            ?? throw new ArgumentException("No chord is named here.", nameof(insteadOf)), alternative)
        {
            Movement = measure.Movement,
        };
    }
}

/// <summary>The table of alternatives, a row an alternative: UTF-8, a header, RFC 4180; and the same as JSON.</summary>
public static class AlternativeTable
{
    /// <summary>The columns in order.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "measure", "beat", "key", "instead_of", "rank", "numeral", "symbol", "device", "common_tones", "semitones",
            "outside_time_before", "outside_time_after",
        "outside_cue_before", "outside_cue_after", "verdict_after", "score", "read_as", "obstacle", "reason", "movement", "experts",
            "resolution", "to",
    ];

    /// <summary>Writes the table with its header. Shares and scores are 0 to 1.</summary>
    public static void Write(IEnumerable<AlternativeRow> rows, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CsvText.Write(writer, Columns, rows.Select(Cells));
    }

    /// <summary>
    /// The rows as a JSON document, UTF-8: an array with the same names as the columns; what is empty in the table is null.
    /// </summary>
    public static byte[] Json(IEnumerable<AlternativeRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        return JsonText.Document(json =>
        {
            json.WriteStartArray();
            foreach (var row in rows)
            {
                json.WriteStartObject();
                foreach (var (name, cell) in Columns.Zip(Values(row)))
                {
                    if (cell.IsNumber) JsonText.Number(json, name, cell.Text);
                    else JsonText.Text(json, name, cell.Text);
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
        });
    }

    private static IReadOnlyList<string> Cells(AlternativeRow row) =>
        [.. Values(row).Select(c => c.IsNumber ? c.Text : TableText.Safe(c.Text))];

    private static IEnumerable<(string Text, bool IsNumber)> Values(AlternativeRow row)
    {
        var (alternative, balance) = (row.Alternative, row.Alternative.Balance);
        yield return (row.Cue, false);
        yield return (row.Measure, false);
        yield return (row.Beat.ToString(), true);
        yield return (alternative.Key.ToString(), false);
        yield return (row.InsteadOf.ToString(), false);
        yield return (Number(alternative.Rank), true);
        yield return (alternative.Numeral.ToString(), false);
        yield return (alternative.Symbol.ToString(), false);
        yield return (alternative.Device?.Name() ?? "", false);
        yield return (Number(alternative.CommonTones), true);
        yield return (Number(alternative.Semitones), true);
        yield return (TableText.Share(balance.PhraseBefore), true);
        yield return (TableText.Share(balance.PhraseAfter), true);
        yield return (TableText.Share(balance.CueBefore), true);
        yield return (TableText.Share(balance.CueAfter), true);
        yield return (balance.Verdict.Name(), false);
        yield return (TableText.Share(alternative.Score), true);
        yield return (ReadBackWords.OtherName(alternative), false);
        yield return (alternative.Rewriting.Obstacle, false);
        yield return (alternative.Reason, false);
        yield return (Number(row.Movement), true);
        yield return (TableText.Share(alternative.Experts), true);
        yield return (alternative.Resolution.Name(), false);
        yield return (row.To, false);
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
