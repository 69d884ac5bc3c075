namespace ScoreLens.Notation.Midi;

/// <summary>
/// Chords that a player rolls: three notes or more of one part, one after the other up or down the keys, each held until the last of them
/// is pressed, all within a fifth of a second. They are one chord, at that end of the roll which lies nearer to a sixteenth.
/// </summary>
internal static class RolledChords
{
    private const int LeastNotes = 3;

    private const double WholeMilliseconds = 200, StepMilliseconds = 60;

    // Of a file that states no tempo (Standard MIDI Files 1.0).
    private const double UsualTempo = 120;

    /// <summary>The notes, those of a rolled chord with one start.</summary>
    public static List<MidiNote> Gathered(IReadOnlyList<MidiNote> notes, MidiTracks file)
    {
        var gathered = new List<MidiNote>(notes.Count);
        var tempos = file.Tempos.OrderBy(t => t.Tick).ToArray();
        foreach (var part in notes.GroupBy(n => (n.Track, n.Channel)))
        {
            var line = part.OrderBy(n => n.Start).ThenBy(n => n.Key).ToArray();
            var (tempo, next) = (UsualTempo, 0);
            for (var first = 0; first < line.Length;)
            {
                for (; next < tempos.Length && tempos[next].Tick <= line[first].Start; next++) tempo = tempos[next].QuartersPerMinute;
                var end = End(line, first, tempo * file.TicksPerQuarter / 60_000);
                if (end - first < LeastNotes) end = first + 1;
                var start = end - first == 1 ? line[first].Start : Place(line[first].Start, line[end - 1].Start, file.TicksPerQuarter);
                for (; first < end; first++) gathered.Add(line[first] with { Start = start });
            }
        }

        return gathered;
    }

    // Where the roll that begins with a note ends: its own place and one where there is none.
    private static int End(MidiNote[] line, int first, double millisecond)
    {
        var end = first + 1;
        var direction = 0;
        for (; end < line.Length; end++)
        {
            var step = Math.Sign(line[end].Key - line[end - 1].Key);
            var gap = line[end].Start - line[end - 1].Start;
            // Pressed together is no roll.
            if (step == 0 || gap == 0 || gap > StepMilliseconds * millisecond) break;
            if (line[end].Start - line[first].Start > WholeMilliseconds * millisecond) break;
            if (direction != 0 && step != direction) break;
            direction = step;
        }

        // A fast run lets its keys go; a chord holds them.
        while (end - first >= LeastNotes && line[first..end].Any(n => n.End <= line[end - 1].Start)) end--;
        return end;
    }

    private static long Place(long first, long last, int ticksPerQuarter)
    {
        return Off(first) <= Off(last) ? first : last;

        double Off(long tick)
        {
            var sixteenths = tick * 4.0 / ticksPerQuarter;
            return Math.Abs(sixteenths - Math.Round(sixteenths));
        }
    }
}
