using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Which leaps are dissonant: a diminished fourth or fifth, a seventh, an augmented interval, more than an octave.</summary>
internal static class UnresolvedLeaps
{
    /// <summary>Whether a leap of this size has to turn back by step.</summary>
    public static bool IsDissonant(Interval size) =>
        size is { Steps: 3, Semitones: 4 } or { Steps: 6 } or { Steps: 5, Semitones: > 9 } or
        {
            Steps: 4,
            Semitones: > 7
        } or { Steps: > 7 };
}
