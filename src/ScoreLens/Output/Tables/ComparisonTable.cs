using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;

namespace ScoreLens.Output.Tables;

/// <summary>A row of <c>comparison.csv</c>: one cue among others.</summary>
/// <param name="Cue">The cue.</param>
/// <param name="Density">Its balance.</param>
/// <param name="Characteristic">What sets it apart from the others; null where nothing does.</param>
public sealed record ComparisonRow(TabledCue Cue, CueDensity Density, Characteristic? Characteristic)
{
    /// <summary>The rows of several cues, in their order.</summary>
    public static IReadOnlyList<ComparisonRow> Of(IReadOnlyList<TabledCue> cues, Band band)
    {
        ArgumentNullException.ThrowIfNull(cues);
        var densities = cues.Select(c => CueDensity.Of([.. c.Chords.Select(r => r.Chord)], [.. c.Phrases.Select(p => p.Phrase)], band)).ToArray();
        return
        [
            .. cues.Select((cue, i) => new ComparisonRow(
                cue, densities[i], Characteristic.Of(densities[i].Whole, densities.Where((_, k) => k != i).Select(d => d.Whole)))),
        ];
    }
}

/// <summary>The table of cues side by side, <c>comparison.csv</c>: UTF-8, a header, RFC 4180.</summary>
public static class ComparisonTable
{
    /// <summary>The columns in order; between the shares and the verdict one a device, in the order of <see cref="DeviceNames.All"/>.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "key", "phrases", "chords", "quarters", "outside_time", "outside_chords", "outside_home_time",
        .. DeviceNames.All.Select(d => d.Name()), "verdict", "characteristic",
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
        ];
    }
}
