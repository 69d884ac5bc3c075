using ScoreLens.Reading.Refinement;

namespace ScoreLens.Reading.Written;

/// <summary>What a score writes down of its harmony, heard.</summary>
/// <param name="Spans">The stretches of its symbols or figures; one chord each.</param>
/// <param name="Context">The score with its symbols played, and its verticals.</param>
/// <param name="Heard">Every chord in the key that is heard where it stands.</param>
internal sealed record Testimony(IReadOnlyList<WrittenSpan> Spans, RefinementContext Context, HarmonicReading Heard);
