using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>A score as a careful player plays it: every note up to a thirty-second of a quarter early or late.</summary>
internal static class UnevenTiming
{
    /// <summary>The score so played, in a fixed pattern, so that figures repeat.</summary>
    public static Score Of(Score score)
    {
        var seed = 1;
        return score with { Notes = [.. score.Notes.Select(n => n with { Onset = Fraction.Max(Fraction.Zero, n.Onset + Next()) })] };

        Fraction Next()
        {
            seed = seed * 75 % 65537;
            return new Fraction((seed % 63) - 31, 992);
        }
    }
}
