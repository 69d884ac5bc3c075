using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Output.Tables;

/// <summary>What an audit says of one phrase.</summary>
/// <param name="Cue">The cue's name.</param>
/// <param name="Place">The phrase and its measures.</param>
/// <param name="Balance">Its shares and verdict.</param>
/// <param name="Outside">The chords outside the key that sound in it, in order.</param>
/// <param name="Unresolved">Those of its chords that do not go on as expected.</param>
public sealed record AuditRow(
    string Cue, PhrasePlace Place, PhraseDensity Balance, IReadOnlyList<ChordRow> Outside, IReadOnlyList<ChordRow> Unresolved)
{
    /// <summary>The device that takes most of the time outside the key; null where nothing is outside.</summary>
    public Device? Cause => Balance.Shares.Devices is [var device, ..] ? device : null;

    /// <summary>Audits a cue, a row a phrase.</summary>
    public static IReadOnlyList<AuditRow> Of(TabledCue cue, CueDensity density)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentNullException.ThrowIfNull(density);
        return
        [
            .. density.Phrases.Select((balance, i) =>
            {
                var phrase = balance.Phrase;
                var chords = cue.Chords.Where(c => c.Chord.Reading.Onset < phrase.End && c.Chord.Reading.End > phrase.Start).ToList();
                return new AuditRow(
                    cue.Name, cue.Phrases[i], balance,
                    [.. chords.Where(c => c.Chord.IsOutside)],
                    [.. chords.Where(c => c.Chord.Resolution == Resolution.Unresolved && c.Chord.Reading.Onset >= phrase.Start)]);
            }),
        ];
    }

    /// <summary>A chord and its place: <c>V7/ii m. 5:3</c>, without the beat on the first one.</summary>
    public static string At(ChordRow chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return $"{chord.Chord.Reading.Numeral} m. {chord.Measure}{(chord.Beat == Fraction.One ? "" : $":{chord.Beat}")}";
    }
}

/// <summary>The table of an audit, a row a phrase: UTF-8, a header, RFC 4180.</summary>
public static class AuditTable
{
    /// <summary>The columns in order.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "phrase", "first_measure", "last_measure", "outside_time", "outside_chords", "outside_home_time", "verdict", "cause", "chords",
        "unresolved",
    ];

    /// <summary>Writes the table with its header. Shares are 0 to 1; chords are separated by semicolons.</summary>
    public static void Write(IEnumerable<AuditRow> rows, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CsvText.Write(writer, Columns, rows.Select(Cells));
    }

    private static IReadOnlyList<string> Cells(AuditRow row)
    {
        var shares = row.Balance.Shares;
        return
        [
            TableText.Safe(row.Cue),
            row.Balance.Phrase.Number.ToString(CultureInfo.InvariantCulture),
            TableText.Safe(row.Place.FirstMeasure),
            TableText.Safe(row.Place.LastMeasure),
            TableText.Share(shares.OutsideTime),
            TableText.Share(shares.OutsideChords),
            TableText.Share(shares.OutsideHomeTime),
            row.Balance.Verdict.Name(),
            row.Cause?.Name() ?? "",
            string.Join("; ", row.Outside.Select(AuditRow.At)),
            string.Join("; ", row.Unresolved.Select(AuditRow.At)),
        ];
    }
}
