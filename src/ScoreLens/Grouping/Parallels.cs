using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Grouping;

/// <summary>
/// Measures that begin like other measures. Passages that are heard as parallel are heard as beginning alike (the sixth
/// grouping preference rule of Lerdahl and Jackendoff, A Generative Theory of Tonal Music, 1983).
/// </summary>
internal static class Parallels
{
    private const int Farthest = 400;

    /// <summary>
    /// For each measure, how clearly a parallel passage begins with it, 0..1: the longest run of measures from here that matches
    /// a run elsewhere, where the measures before the two runs do not match as well.
    /// </summary>
    public static double[] Find(IReadOnlyList<Measure> measures, Func<Measure, MelodicLine?> leading)
    {
        var melodies = measures.Select(m => leading(m) is { } line ? Melody(line, m) : []).ToArray();
        var count = melodies.Length;
        var found = new double[count];
        for (var distance = 2; distance <= Math.Min(count - 1, Farthest); distance++)
        {
            var run = 0;
            for (var i = count - 1 - distance; i >= 0; i--)
            {
                var matches = melodies[i].Length > 0 && Match(melodies[i], melodies[i + distance]);
                run = matches ? run + 1 : 0;
                if (!matches || (i > 0 && Match(melodies[i - 1], melodies[i - 1 + distance]))) continue;
                var notes = 0;
                for (var k = i; k < i + Math.Min(run, 4); k++) notes += melodies[k].Length;
                if (notes < 3) continue;
                // Nearer than three measures, a repetition is a sequence inside a phrase more often than a new one.
                var strength = Math.Min(1, run / 3.0) * (distance < 3 ? 0.4 : 1);
                found[i] = Math.Max(found[i], strength);
                found[i + distance] = Math.Max(found[i + distance], strength);
            }
        }

        return found;
    }

    private static (Fraction Offset, int Step)[] Melody(MelodicLine line, Measure measure)
    {
        var notes = new List<(Fraction, int)>();
        for (var i = line.FirstFrom(measure.Start); i < line.Events.Count && line.Events[i].Onset < measure.End; i++)
            notes.Add((line.Events[i].Onset - measure.Start, line.Events[i].Pitch.Staff));
        return [.. notes];
    }

    // Alike in rhythm, and in most steps on the staff, wherever it is transposed to.
    private static bool Match((Fraction Offset, int Step)[] a, (Fraction Offset, int Step)[] b)
    {
        if (a.Length == 0 || b.Length == 0) return a.Length == b.Length;
        if (Math.Min(a.Length, b.Length) * 10 < Math.Max(a.Length, b.Length) * 7) return false;
        int both = 0, steps = 0, same = 0;
        (int A, int B)? last = null;
        for (int i = 0, j = 0; i < a.Length && j < b.Length;)
        {
            var order = a[i].Offset.CompareTo(b[j].Offset);
            if (order < 0) i++;
            else if (order > 0) j++;
            else
            {
                both++;
                if (last is { } l)
                {
                    steps++;
                    if (a[i].Step - l.A == b[j].Step - l.B) same++;
                }

                last = (a[i].Step, b[j].Step);
                i++;
                j++;
            }
        }

        var together = a.Length + b.Length - both;
        return both * 10 >= together * 7 && same * 10 >= steps * 7;
    }
}
