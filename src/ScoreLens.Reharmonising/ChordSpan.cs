using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>A stretch of music that takes one chord.</summary>
/// <param name="Start">Where it begins, in quarter notes.</param>
/// <param name="End">Where it ends.</param>
public readonly record struct ChordSpan(Fraction Start, Fraction End);
