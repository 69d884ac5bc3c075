using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Output.Tables;

/// <summary>The table of chords, <c>chords.csv</c>: UTF-8, a header, RFC 4180.</summary>
public static class ChordTable
{
    /// <summary>The columns in order.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "onset", "duration", "measure", "beat", "key", "numeral", "symbol", "function", "device", "also", "target", "resolution",
        "outside_home", "phrase", "confidence", "runner_up", "reason", "keys", "movement", "rehearsal", "time", "colour", "disagrees",
        "pedal",
    ];

    /// <summary>Writes the table with its header.</summary>
    public static void Write(IEnumerable<ChordRow> rows, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CsvText.Write(writer, Columns, rows.Select(Cells));
    }

    /// <summary>
    /// Reads a table: one that <see cref="Write"/> wrote, or any other with at least the columns onset, duration, key and
    /// numeral. Columns may stand in any order and others may stand between them. The symbol is not read, since key and
    /// numeral say it.
    /// </summary>
    /// <param name="reader">The table's text.</param>
    /// <param name="seventhsOfScale">
    /// Whether a bare seventh on an upper-case numeral is the one that the scale gives, as experts write by hand and as the
    /// references of the evaluation corpus are written; otherwise it is a minor seventh, as in our own tables.
    /// </param>
    /// <exception cref="ScoreFormatException">A column is missing, or a cell cannot be read; the place names line and column.</exception>
    public static IReadOnlyList<ChordRow> Read(TextReader reader, bool seventhsOfScale = false) =>
        CsvText.Read(reader, ["onset", "duration", "key", "numeral"], row => Row(row, seventhsOfScale));

    private static IReadOnlyList<string> Cells(ChordRow row)
    {
        var (chord, reading) = (row.Chord, row.Chord.Reading);
        return
        [
            reading.Onset.ToString(),
            reading.Duration.ToString(),
            TableText.Safe(row.Measure),
            row.Beat.ToString(),
            reading.Key.ToString(),
            row.Numeral,
            row.Symbol,
            chord.Function.Name(),
            chord.Device?.Name() ?? "",
            string.Join(' ', chord.Also.Select(d => d.Name())),
            chord.Target ?? "",
            chord.Resolution.Name(),
            chord.OutsideHome ? "1" : "0",
            row.Phrase == 0 ? "" : row.Phrase.ToString(CultureInfo.InvariantCulture),
            TableText.Share(reading.Confidence),
            row.RunnerUp,
            TableText.Safe(ReasonText.Of(row)),
            row.Keys.Name(),
            row.Movement.ToString(CultureInfo.InvariantCulture),
            TableText.Safe(row.Rehearsal),
            row.Time,
            TableText.Safe(ColourText.Of(row.Colour)),
            row.Disagrees,
            row.Pedal,
        ];
    }

    private static ChordRow Row(CsvRow row, bool seventhsOfScale)
    {
        var key = row.Value<Key>("key", Key.TryParse, "a key such as F# minor");
        var reading = new ChordReading(
            row.Value<Fraction>("onset", Fraction.TryParse, "a number of quarter notes such as 4, 4.5 or 13/3"),
            row.Value<Fraction>("duration", Fraction.TryParse, "a number of quarter notes such as 4, 4.5 or 13/3"),
            key,
            row.Has("numeral") ? row.Value<Numeral>("numeral", ParseNumeral, "a Roman numeral such as V65/V") : null,
            row.Has("confidence") ? row.Share("confidence") : 0,
            RunnersUp(row));
        return new ChordRow(
            new TaggedChord(
                reading,
                row.Name<HarmonicFunction>("function", HarmonicFunctions.Name),
                row.Has("device") ? row.Value<Device>("device", (string s, IFormatProvider? _, out Device d) =>
                    DeviceNames.TryParse(s, out d), "a device's name") : null,
                [.. row.Text("also").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(name =>
                    DeviceNames.TryParse(name, out var device) ? device : throw row.Wrong("also", "names of devices"))],
                row.Has("target") ? row.Text("target") : null,
                row.Name<Resolution>("resolution", DeviceNames.Name),
                row.Text("outside_home") switch { "1" => true, "0" or "" => false, _ => throw row.Wrong("outside_home", "0 or 1") },
                row.Has("reason") ? new QuotedReason(TableText.Unsafe(row.Text("reason"))) : null),
            TableText.Unsafe(row.Text("measure")),
            row.Has("beat") ? row.Value<Fraction>("beat", Fraction.TryParse, "a beat such as 1 or 2.5") : Fraction.One,
            row.Has("phrase") ? row.Value<int>("phrase", int.TryParse, "a phrase's number") : 0)
        {
            Keys = row.Has("keys") ? row.Value("keys", (string s, IFormatProvider? _, out KeyRule r) => KeyRuleNames.TryParse(s, out r),
                "touch, confirm or phrase") : KeyRule.Confirm,
            Movement = row.Has("movement") ? row.Value<int>("movement", int.TryParse, "a movement's number") : 1,
            Rehearsal = TableText.Unsafe(row.Text("rehearsal")),
            Time = row.Text("time"),
            Colour = row.Has("colour")
                ? row.Value<IReadOnlyList<ColourTone>>("colour", ColourText.TryParse, "tones with parts such as F#: Horn") : [],
        };

        bool ParseNumeral(string text, IFormatProvider? _, out Numeral value) =>
            seventhsOfScale ? Numeral.TryParseByScale(text, key.Mode, out value!) : Numeral.TryParse(text, key.Mode, out value!);
    }

    private static IReadOnlyList<RunnerUp> RunnersUp(CsvRow row)
    {
        // 'F# minor V7': the key is the first two words. Its probability is not in the table.
        var text = row.Text("runner_up");
        if (text.Length == 0) return [];
        var split = text.LastIndexOf(' ');
        return split > 0 && Key.TryParse(text[..split], CultureInfo.InvariantCulture, out var key)
            && Numeral.TryParse(text[(split + 1)..], key.Mode, out var numeral)
            ? [new RunnerUp(key, numeral, 0)]
            : throw row.Wrong("runner_up", "a key and a numeral such as G major IV");
    }
}
