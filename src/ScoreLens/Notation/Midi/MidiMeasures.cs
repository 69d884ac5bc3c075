using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// Measures from a file's time signatures: 4/4 where it states none. MIDI cannot say that a measure is incomplete; notation programs
/// write a pickup, and each half of a measure that a repeat cuts, as a measure of a time signature of its own. They are read as what they
/// are.
/// </summary>
internal static class MidiMeasures
{
    private const int MaxMeasures = 100_000;

    /// <summary>The measures from the start to the end of the music.</summary>
    public static IReadOnlyList<Measure> Of(MidiTracks file, Fraction end) => Numbered(Written(file, end), end);

    private static List<Measure> Written(MidiTracks file, Fraction end)
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
            measures.Add(new Measure(measures.Count, "", start, length, time, key.Sharps, mode));
            start += length;
        }

        return measures;

        Fraction At(long tick) => new(tick, file.TicksPerQuarter);
    }

    private static List<Measure> Numbered(List<Measure> written, Fraction end)
    {
        var measures = new List<Measure>(written.Count);
        int number = 0, parts = 0;
        for (var i = 0; i < written.Count; i++)
        {
            var measure = written[i];
            if (i == 0 && IsPickup(written, end))
            {
                measures.Add(measure with { Number = "0", Time = written[1].Time, IsImplicit = true });
                continue;
            }

            var count = ++number;
            if (IsCut(written, measures, i))
            {
                var time = measures[i - 1].Time;
                measures.Add(measure with { Number = Text(count), Time = time });
                i++;
                measures.Add(written[i] with
                {
                    Number = $"X{Text(++parts)}",
                    Time = time,
                    IsImplicit = true,
                    PickupOffset = measure.Length,
                });
                continue;
            }

            // The last measure lacks what the pickup has.
            var isRest = i > 0 && i == written.Count - 1 && measures[0].IsImplicit && measures[0].Time == measures[i - 1].Time
                && measures[0].Length + measure.Length == measures[0].Time.Length;
            measures.Add(measure with { Number = Text(count), Time = isRest ? measures[0].Time : measure.Time });
        }

        return measures;

        static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
    }

    // A single first measure that is shorter than the metre that follows. One that may be a measure of its own, as 2/4 before 4/4, is a
    // pickup where the music stops in the last measure so early that the two are one measure together.
    private static bool IsPickup(List<Measure> measures, Fraction end)
    {
        if (measures is not [var first, var second, ..] || first.Time == second.Time || first.Length >= second.Time.Length
            || first.Length != first.Time.Length) return false;
        var isFragment = first.Time.Beats == 1 || first.Time.BeatType > second.Time.BeatType;
        return isFragment || (first.Length + end - measures[^1].Start == second.Time.Length && measures.Count > 2);
    }

    // Two measures, each of another time signature than what stands around them, that are one of it together.
    private static bool IsCut(List<Measure> written, List<Measure> before, int i)
    {
        if (i == 0 || i + 1 >= written.Count) return false;
        var time = before[i - 1].Time;
        return written[i].Time != time && written[i].Length == written[i].Time.Length
            && written[i + 1].Length == written[i + 1].Time.Length && written[i].Length + written[i + 1].Length == time.Length
            && (i + 2 >= written.Count || written[i + 2].Time == time || written[i + 2].Length < time.Length);
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
