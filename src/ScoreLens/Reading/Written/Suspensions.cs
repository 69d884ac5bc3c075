using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Finds the suspensions among the figures: 4 3, 7 6, 9 8 and what combines them, 7 4 2 before 8 5 3, and 6 5 that is prepared, over one
/// bass; and 5 2 before a 6 over a bass a step lower, where the bass itself is suspended. "The harmony is that of the resolution" (Aldwell
/// and Schachter, Harmony and Voice Leading, on suspensions in figured bass; from memory). A six-four chord before 5 3, a chord of the
/// seventh with its fifth before 6, and 5 6 are chords of their own.
/// </summary>
internal static class Suspensions
{
    /// <summary>The stages, each that is a suspension with the way to its resolution.</summary>
    public static IReadOnlyList<FiguredStage> Of(IReadOnlyList<FiguredStage> stages, Score score)
    {
        var read = stages.ToArray();
        for (var i = read.Length - 1; i >= 0; i--)
        {
            if (read[i].IsHeld) continue;
            var next = i + 1;
            while (next < read.Length && read[next].IsHeld) next++;
            if (next == read.Length || read[next].Onset != read[next - 1].End) continue;
            // A seventh that comes after another figure of its bass note is passing.
            var begins = i == 0 || read[i - 1].Bass != read[i].Bass;
            if (IsSuspended(read[i], read[next], begins, () => IsPrepared(read, i) && IsStronger(score, read[i].Onset, read[next].Onset)))
                read[i] = read[i] with { ResolvesIn = next - i + read[next].ResolvesIn };
        }

        return read;
    }

    private static bool IsSuspended(FiguredStage stage, FiguredStage next, bool begins, Func<bool> isPreparedSixth)
    {
        if (stage.Figures is not { } first || next.Figures is not { } second) return false;
        var (written, resolved) = (Numbers(stage.Text), Numbers(next.Text).ToHashSet());
        if (written.Count == 0) return false;
        if (stage.Bass != next.Bass)
        {
            return written is [5, 2] or [5, 4, 2] && (stage.Bass.Step - next.Bass.Step + 7) % 7 == 1 && resolved.Contains(6)
                && !resolved.Contains(4);
        }

        // A bass note without figures, or with 5 alone, has its third and octave.
        if (!resolved.Overlaps([2, 4, 6, 7, 9])) resolved.UnionWith([8, 5, 3]);
        var sounding = second.Intervals.Select(i => i.Number).Append(8).ToHashSet();
        var isOverTonic = written.Contains(7) && written.Contains(4) && written.Contains(2);
        var moved = new List<int>();
        foreach (var number in written.Where(n => !sounding.Contains(n)))
        {
            var goal = number switch
            {
                4 when resolved.Contains(3) && (isOverTonic || (!written.Contains(6) && !written.Contains(2))) => 3,
                9 when resolved.Contains(8) => 8,
                7 when resolved.Contains(6) && sounding.Contains(3) && !sounding.Contains(5) && begins => 6,
                7 when (written.Contains(4) || isOverTonic) && resolved.Contains(8) => 8,
                2 when isOverTonic => 8,
                6 when isOverTonic && resolved.Contains(5) => 5,
                6 when written.All(n => n is 6 or 3 or 8) && resolved.Contains(5) && isPreparedSixth() => 5,
                _ => 0,
            };
            if (goal == 0) return false;
            moved.Add(number);
        }

        // The third that the first figures imply stays, unless a fourth stands for it.
        return moved.Count > 0 && (!first.Intervals.Any(i => i.Number == 3) || sounding.Contains(3));
    }

    // The sixth over the bass has sounded in the chord before.
    private static bool IsPrepared(FiguredStage[] stages, int at)
    {
        var stage = stages[at];
        var sixth = stage.Figures?.Intervals.FirstOrDefault(i => i.Number == 6);
        if (sixth is not var (number, sign, _)) return false;
        var tone = Figures.ToneAbove(stage.Bass, number, sign, stage.Signature);
        var before = stages.Take(at).LastOrDefault(s => !s.IsHeld);
        return before?.Figures?.TonesOver(before.Bass, before.Signature).Contains(tone) == true;
    }

    // On a beat, where the resolution is within the beat or on a later one of the same measure.
    private static bool IsStronger(Score score, Fraction onset, Fraction resolution)
    {
        var measure = score.MeasureAt(onset);
        var beat = (onset - measure.Start + measure.PickupOffset) / measure.Time.PulseLength;
        return beat.Denominator == 1 && resolution < measure.End && (beat.Numerator % 2 == 0 || resolution - onset < measure.Time.PulseLength);
    }

    // The numbers as they are written; an accidental alone is the third's.
    private static List<int> Numbers(string text) =>
        [.. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(f => string.Concat(f.Where(char.IsAsciiDigit)))
            .Where(f => f.Length <= 2).Select(f => f.Length == 0 ? 3 : int.Parse(f, CultureInfo.InvariantCulture)).OrderDescending()];
}
