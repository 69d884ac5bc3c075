using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Devices;

namespace ScoreLens.Output.Tables;

/// <summary>The table of a curve, a row a stretch of measures: UTF-8, a header, RFC 4180.</summary>
public static class CurveTable
{
    /// <summary>The columns in order; after the shares one a device, in the order of <see cref="DeviceNames.All"/>.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [
        "cue", "movement", "first_measure", "last_measure", "rehearsal", "time", "outside_time", "outside_home_time",
        .. DeviceNames.All.Select(d => d.Name()),
    ];

    /// <summary>Writes the table with its header. Shares are 0 to 1.</summary>
    public static void Write(IEnumerable<CurvePoint> points, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(points);
        CsvText.Write(writer, Columns, points.Select(Cells));
    }

    private static IReadOnlyList<string> Cells(CurvePoint point) =>
    [
        TableText.Safe(point.Cue),
        point.Movement.ToString(CultureInfo.InvariantCulture),
        TableText.Safe(point.FirstMeasure),
        TableText.Safe(point.LastMeasure),
        TableText.Safe(point.Rehearsal),
        point.Time,
        TableText.Share(point.Shares.OutsideTime),
        TableText.Share(point.Shares.OutsideHomeTime),
        .. DeviceNames.All.Select(d => TableText.Share(point.Shares.TimeOf(d))),
    ];
}
