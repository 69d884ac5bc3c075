using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>A tempo, from a metronome mark or from what a program plays.</summary>
/// <param name="Onset">Quarter notes from the start of the score; the tempo holds from there on.</param>
/// <param name="QuartersPerMinute">Quarter notes a minute; above zero.</param>
public sealed record TempoMark(Fraction Onset, double QuartersPerMinute);
