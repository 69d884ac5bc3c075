using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>A stretch of a score over which one chord symbol holds.</summary>
/// <param name="Onset">Where the symbol stands, in quarter notes from the start of the score.</param>
/// <param name="End">Where the next symbol stands, or the score ends.</param>
/// <param name="Chord">The chord; null for "no chord".</param>
/// <param name="Quality">The triad or seventh chord that the symbol colours; meaningless without a chord.</param>
internal sealed record WrittenSpan(Fraction Onset, Fraction End, WrittenChord? Chord, ChordQuality Quality);
