using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Wording;

namespace ScoreLens.Output.Tables;

/// <summary>The table of cues side by side, <c>comparison.csv</c>: UTF-8, a header, RFC 4180.</summary>
public static class ComparisonTable
{
    /// <summary>
    /// The columns in order; between the shares and the verdict one a device, in the order of <see cref="DeviceNames.All"/>.
    /// </summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "key", "phrases", "chords", "quarters", "outside_time", "outside_chords", "outside_home_time",
        .. DeviceNames.All.Select(d => d.Name()), "verdict", "characteristic", "movement",
        "characteristic_at",
    ];

    /// <summary>Writes the table with its header. Times are quarter notes, shares 0 to 1.</summary>
    public static void Write(IEnumerable<ComparisonRow> rows, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(rows);
        CsvText.Write(writer, Columns, rows.Select(Cells));
    }

    private static IReadOnlyList<string> Cells(ComparisonRow row)
    {
        var shares = row.Density.Whole;
        return
        [
            TableText.Safe(row.Cue.Name),
            row.Cue.Key?.ToString() ?? "",
            row.Cue.Phrases.Count.ToString(CultureInfo.InvariantCulture),
            shares.Chords.ToString(CultureInfo.InvariantCulture),
            shares.Quarters.ToString(),
            TableText.Share(shares.OutsideTime),
            TableText.Share(shares.OutsideChords),
            TableText.Share(shares.OutsideHomeTime),
            .. DeviceNames.All.Select(d => TableText.Share(shares.TimeOf(d))),
            row.Density.Verdict.Name(),
            row.Characteristic?.Device.Name() ?? "",
            row.Cue.Movement.ToString(CultureInfo.InvariantCulture),
            row.Characteristic is { } c && row.Cue.First(c.Device) is { } first ? TableText.Safe(PlaceText.Where(first)) : "",
        ];
    }
}
