using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Reading;

namespace ScoreLens.Wording;

/// <summary>What is said of pedals.</summary>
public static class PedalText
{
    /// <summary>A pedal's label: <c>pedal 1</c>, <c>pedal 5</c>, with its degree in the key in which it begins.</summary>
    internal static string Label(PedalPoint pedal) => $"pedal {pedal.Degree}";

    /// <summary>For each pedal of a chord, over or with which one it stands, and whether the pedal belongs to it.</summary>
    public static IEnumerable<string> Of(ChordRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        var reading = row.Chord.Reading;
        return row.Pedals.Select(p => $"{reading.Numeral} in {reading.Key} {(p == row.LowestPedal ? "over" : "with")} {Pedal(p, reading)}");
    }

    /// <summary>A sentence on each pedal that does not belong to the chord, each with a space before it; empty where there is none.
    /// </summary>
    internal static string Beside(ChordRow row) => string.Concat(row.Pedals.Where(p => p.IsForeignTo(row.Chord.Reading)).Select(p =>
        $" It {(p == row.LowestPedal ? "stands over" : "sounds with")} {Pedal(p, row.Chord.Reading)}."));

    private static string Pedal(PedalPoint pedal, ChordReading chord) => $"a pedal on {pedal.Tone}, degree {pedal.Degree} of {pedal.Key}, "
        + (pedal.IsForeignTo(chord) ? "which is no tone of the chord" : "which is a tone of the chord");
}
