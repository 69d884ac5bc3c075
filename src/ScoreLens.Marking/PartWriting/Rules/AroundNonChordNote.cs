using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Parallel perfect intervals between chord notes, with nothing but a note foreign to the chord between them.</summary>
internal abstract class AroundNonChordNote : PartWritingRule
{
    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 11; Piston, Harmony, ch. on nonharmonic tones (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from found in PairMotion.AroundNonChordNotes(progression)
        let m = found.Motion
        where m.IsSimilar && !found.IsAnticipated && !found.AreBothMoving && IsKept(found) && !Motions.KeepsItsTones(m)
        select At(m.Onset, new MotionFacts(m), m.Notes);

    private protected abstract bool IsKept(MotionAround found);
}

/// <summary>Parallel fifths with only a non-chord note between.</summary>
internal sealed class FifthsAroundNonChordNote : AroundNonChordNote
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.FifthsAroundNonChordNote;

    /// <inheritdoc/>
    public override string Sentence => "A passing or neighbouring note between two fifths does not hide that they are parallel.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "A suspension or an anticipation between the fifths; another chord note between, or notes of both voices; inside one harmony; "
        + "the step from one phrase to the next.";

    private protected override bool IsKept(MotionAround found) =>
        found is { IsStruckBetween: true, IsOneHarmony: false } && found.Motion.First.IsFifth && found.Motion.Second.IsFifth;
}

/// <summary>Parallel octaves or unisons with only a non-chord note between.</summary>
internal sealed class OctavesAroundNonChordNote : AroundNonChordNote
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.OctavesAroundNonChordNote;

    /// <inheritdoc/>
    public override string Sentence => "A non-chord note between two octaves, a suspension too, does not hide that they are parallel.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "An anticipation, another chord note or notes of both voices between; the step from one phrase to the next.";

    private protected override bool IsKept(MotionAround found) => found.Motion.First.IsOctave && found.Motion.Second.IsOctave;
}
