using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Theory;

namespace ScoreLens.Output.Tables;

/// <summary>The table of phrases, <c>phrases.csv</c>: UTF-8, a header, RFC 4180.</summary>
public static class PhraseTable
{
    /// <summary>
    /// The columns in order; between the shares and the verdict one a device, in the order of <see cref="DeviceNames.All"/>.
    /// </summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "phrase", "start", "end", "first_measure", "last_measure", "key", "cadence", "chords", "quarters", "outside_time", "outside_chords",
        "outside_home_time", .. DeviceNames.All.Select(d => d.Name()), "verdict", "movement", "rehearsal", "time",
    ];

    /// <summary>Writes the table with its header. Times are quarter notes, shares 0 to 1.</summary>
    public static void Write(IEnumerable<PhraseRow> rows, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CsvText.Write(writer, Columns, rows.Select(Cells));
    }

    /// <summary>
    /// Reads the phrases of a table: number, start, end, key and cadence, and between which measures they lie. Shares are not read: they
    /// follow from the chords (<see cref="CueDensity.Of(IReadOnlyList{TaggedChord}, IReadOnlyList{Phrase}, Band)"/>).
    /// </summary>
    /// <exception cref="ScoreFormatException">A column is missing, or a cell cannot be read; the place names line and column.</exception>
    public static IReadOnlyList<PhrasePlace> Read(TextReader reader) =>
        CsvText.Read(reader, ["phrase", "start", "end", "key"], row => new PhrasePlace(
        new Phrase(
            row.Value<int>("phrase", int.TryParse, "a phrase's number"),
            row.Value<Fraction>("start", Fraction.TryParse, "a number of quarter notes such as 4, 4.5 or 13/3"),
            row.Value<Fraction>("end", Fraction.TryParse, "a number of quarter notes such as 4, 4.5 or 13/3"),
            row.Value<Key>("key", Key.TryParse, "a key such as F# minor"),
            row.Name<Cadence>("cadence", CadenceNames.Name)),
        TableText.Unsafe(row.Text("first_measure")),
        TableText.Unsafe(row.Text("last_measure")))
        {
            Movement = row.Has("movement") ? row.Value<int>("movement", int.TryParse, "a movement's number") : 1,
            Rehearsal = TableText.Unsafe(row.Text("rehearsal")),
            Time = row.Text("time"),
        });

    private static IReadOnlyList<string> Cells(PhraseRow row)
    {
        var (phrase, shares) = (row.Phrase, row.Balance.Shares);
        return
        [
            phrase.Number.ToString(CultureInfo.InvariantCulture),
            phrase.Start.ToString(),
            phrase.End.ToString(),
            TableText.Safe(row.FirstMeasure),
            TableText.Safe(row.LastMeasure),
            phrase.Key.ToString(),
            phrase.Cadence.Name(),
            shares.Chords.ToString(CultureInfo.InvariantCulture),
            shares.Quarters.ToString(),
            TableText.Share(shares.OutsideTime),
            TableText.Share(shares.OutsideChords),
            TableText.Share(shares.OutsideHomeTime),
            .. DeviceNames.All.Select(d => TableText.Share(shares.TimeOf(d))),
            row.Balance.Verdict.Name(),
            row.Movement.ToString(CultureInfo.InvariantCulture),
            TableText.Safe(row.Rehearsal),
            row.Time,
        ];
    }
}
