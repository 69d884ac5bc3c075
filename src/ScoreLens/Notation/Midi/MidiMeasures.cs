using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>Measures from a file's time signatures: 4/4 where it states none.</summary>
internal static class MidiMeasures
{
    private const int MaxMeasures = 100_000;

    /// <summary>The measures from the start to the end of the music.</summary>
    public static IReadOnlyList<Measure> Of(MidiTracks file, Fraction end)
    {
        var metres = file.Metres.OrderBy(m => m.Tick).ToArray();
        var keys = file.Keys.OrderBy(k => k.Tick).ToArray();
        var measures = new List<Measure>();
        var start = Fraction.Zero;
        var time = TimeSignature.Common;
        var key = default(MidiKey);
        int nextMetre = 0, nextKey = 0;
        while (start < end)
        {
            for (; nextMetre < metres.Length && At(metres[nextMetre].Tick) <= start; nextMetre++) time = metres[nextMetre].Time;
            for (; nextKey < keys.Length && At(keys[nextKey].Tick) <= start; nextKey++) key = keys[nextKey];
            var length = time.Length;
            // A new time signature begins a measure wherever it comes.
            if (nextMetre < metres.Length && At(metres[nextMetre].Tick) < start + length) length = At(metres[nextMetre].Tick) - start;
            if (measures.Count >= MaxMeasures) throw new ScoreFormatException("The MIDI file has more measures than a score can have.");
            Mode? mode = keys.Length == 0 ? null : key.IsMinor ? Mode.Minor : Mode.Major;
            measures.Add(new Measure(
                measures.Count, (measures.Count + 1).ToString(CultureInfo.InvariantCulture), start, length, time, key.Sharps, mode));
            start += length;
        }

        return measures;

        Fraction At(long tick) => new(tick, file.TicksPerQuarter);
    }

    /// <summary>The tick at which the measure that holds a tick ends, reckoned from the time signature in force.</summary>
    public static long BarAfter(MidiTracks file, long tick)
    {
        var metre = new MidiMetre(0, TimeSignature.Common);
        foreach (var candidate in file.Metres)
            if (candidate.Tick <= tick && candidate.Tick >= metre.Tick) metre = candidate;
        var length = (metre.Time.Length * file.TicksPerQuarter).Floor();
        return length <= 0 ? tick : metre.Tick + (((tick - metre.Tick) / length) + 1) * length;
    }
}
