using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>A measure of the score that was set and its counterpart in the submission.</summary>
/// <param name="Given">Place of the measure among those of the score that was set.</param>
/// <param name="Written">Place of its counterpart.</param>
/// <param name="Shift">How much later in its counterpart its contents stand: a pickup that is filled up, or cut, at its start.</param>
/// <param name="Kept">How many of its notes are there.</param>
internal readonly record struct AlignedPair(int Given, int Written, Fraction Shift, int Kept);
