using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A diminished fifth that moves to a perfect one with the bass.</summary>
internal sealed class DiminishedToPerfectFifth : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.DiminishedToPerfectFifth;

    /// <inheritdoc/>
    public override string Sentence =>
        "A diminished fifth above the bass closes to a third; it does not move to a perfect fifth in the same direction.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "Between upper voices, as in I–viio6–I6 and I–V43–I6; from a perfect to a diminished fifth; a non-chord note.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5 (unequal fifths); Aldwell and Schachter, ch. 6 (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from m in PairMotion.Of(progression)
        where m.LowerTo.Voice == progression.Bass && m.IsSimilar && m.First.IsDiminishedFifth && m.Second.IsFifth
            && progression.MomentAt(m.Onset) is { } here && progression.Moments[here.Index - 1] is var before
            && progression.IsChordNote(m.UpperFrom, before) && progression.IsChordNote(m.LowerFrom, before)
            && progression.IsChordNote(m.UpperTo, here) && progression.IsChordNote(m.LowerTo, here)
        select At(m.Onset, new MotionFacts(m), m.Notes);
}
