using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>How far four voices have to move between two chords, octaves left aside.</summary>
internal static class Smoothness
{
    /// <summary>
    /// The least sum of semitones over every assignment of the voices of one chord to those of the other; a triad has one of
    /// its tones twice, whichever makes the way shortest.
    /// </summary>
    public static int Semitones(IReadOnlyList<Tone> from, IReadOnlyList<Tone> to)
    {
        var least = int.MaxValue;
        foreach (var a in FourVoices(from))
            foreach (var b in FourVoices(to)) least = Math.Min(least, Assign(a, b, 0, 0));
        return least;
    }

    /// <summary>How many tones both chords have, by sound.</summary>
    public static int CommonTones(IReadOnlyList<Tone> a, IReadOnlyList<Tone> b) => a.Count(t => b.Any(t.IsEnharmonicWith));

    /// <summary>Semitones from one tone to another the shorter way, 0..6.</summary>
    public static int Between(Tone from, Tone to) => Shortest(from.PitchClass, to.PitchClass);

    private static int Shortest(int from, int to)
    {
        var up = (to - from + 12) % 12;
        return Math.Min(up, 12 - up);
    }

    private static IEnumerable<int[]> FourVoices(IReadOnlyList<Tone> tones)
    {
        int[] classes = [.. tones.Take(4).Select(t => t.PitchClass)];
        if (classes.Length == 4) return [classes];
        return classes.Select(doubled => (int[])[.. classes, doubled]);
    }

    private static int Assign(int[] from, int[] to, int voice, int taken)
    {
        if (voice == from.Length) return 0;
        var least = int.MaxValue / 2;
        for (var i = 0; i < to.Length; i++)
        {
            if ((taken & (1 << i)) != 0) continue;
            least = Math.Min(least, Shortest(from[voice], to[i]) + Assign(from, to, voice + 1, taken | (1 << i)));
        }

        return least;
    }
}
