using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>
/// How a device comes back: too much of one device is heard as repetition before it is heard as a share of time. Chords of one device
/// that follow each other without another chord between are one entry.
/// </summary>
/// <param name="Device">The device.</param>
/// <param name="Entries">How often it enters.</param>
/// <param name="Returns">How many of these entries come within the asked number of measures of the one before.</param>
/// <param name="Numeral">The numeral with which it enters most often, the first of equals.</param>
/// <param name="NumeralEntries">How often it enters with that numeral.</param>
public sealed record Repetition(Device Device, int Entries, int Returns, Numeral Numeral, int NumeralEntries)
{
    /// <summary>The devices of a cue that come back, the one with most returns first.</summary>
    /// <param name="cue">The cue. From tables, measures are told by their printed numbers.</param>
    /// <param name="measures">Within how many measures, at least 1.</param>
    public static IReadOnlyList<Repetition> Of(TabledCue cue, int measures)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentOutOfRangeException.ThrowIfLessThan(measures, 1);
        var named = cue.Chords.Where(c => c.Chord.Reading.Numeral is not null).ToList();
        var entries = named.Where((c, i) => c.Chord.Device is { } device && (i == 0 || named[i - 1].Chord.Device != device)).ToList();
        return
        [
            .. entries.GroupBy(c => c.Chord.Device!.Value).Select(g =>
            {
                var rows = g.ToList();
                var returns = rows.Skip(1)
                    .Where((row, i) => Measure(cue, row) - Measure(cue, rows[i]) is { } apart && apart <= measures).Count();
                var most = rows.GroupBy(r => r.Chord.Reading.Numeral!).MaxBy(n => n.Count())!;
                return new Repetition(g.Key, rows.Count, returns, most.Key, most.Count());
            }).Where(r => r.Returns > 0).OrderByDescending(r => r.Returns).ThenBy(r => r.Device),
        ];
    }

    // Where a row stands among the measures; unknown where a printed number is none.
    private static int? Measure(TabledCue cue, ChordRow row)
    {
        if (cue.Measures.Count > 0)
            return Sorted.FirstWhere(cue.Measures.Count, i => cue.Measures[i].End > row.Chord.Reading.Onset);
        return int.TryParse(row.Measure, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
    }
}
