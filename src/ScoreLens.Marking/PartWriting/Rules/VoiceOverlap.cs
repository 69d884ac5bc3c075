using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A voice that moves beyond the note that its neighbour has just left.</summary>
internal sealed class VoiceOverlap : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.VoiceOverlap;

    /// <inheritdoc/>
    public override string Sentence =>
        "A voice does not move above the note that the voice above it has just left, nor below that of the voice below.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "Inside one chord and when a chord is repeated; a non-chord note; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source =>
        "Kostka and Payne, Tonal Harmony, ch. 5 (overlap); Laitz, The Complete Musician, ch. on part writing (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.25;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var m in PairMotion.Of(progression).Where(m => m.LowerTo.Voice == m.UpperTo.Voice + 1))
        {
            if (progression.IsOneHarmonyInto(m.Onset)) continue;
            if (m.UpperFrom.Pitch < m.LowerFrom.Pitch || m.UpperTo.Pitch < m.LowerTo.Pitch) continue;
            var rises = m.LowerTo.Pitch.Midi > m.UpperFrom.Pitch.Midi && progression.StartsAsChordNote(m.LowerTo);
            var falls = m.UpperTo.Pitch.Midi < m.LowerFrom.Pitch.Midi && progression.StartsAsChordNote(m.UpperTo);
            if (!rises && !falls) continue;
            var (moved, left) = rises ? (m.LowerTo, m.UpperFrom) : (m.UpperTo, m.LowerFrom);
            yield return At(m.Onset, new OverlapFacts(moved, left), moved, left);
        }
    }
}
