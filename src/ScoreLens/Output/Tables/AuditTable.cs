using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Output.Tables;

/// <summary>The table of an audit, a row a phrase: UTF-8, a header, RFC 4180.</summary>
public static class AuditTable
{
    /// <summary>The columns in order.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "phrase", "first_measure", "last_measure", "outside_time", "outside_chords", "outside_home_time", "verdict", "cause",
            "chords",
        "unresolved", "movement", "held_over", "rehearsal", "time",
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
            string.Join("; ", row.Outside.Select(PlaceText.Of)),
            string.Join("; ", row.Unresolved.Select(PlaceText.Of)),
            row.Place.Movement.ToString(CultureInfo.InvariantCulture),
            row.HeldOver is { } held ? PlaceText.Of(held) : "",
            TableText.Safe(row.Place.Rehearsal),
            row.Place.Time,
        ];
    }
}
