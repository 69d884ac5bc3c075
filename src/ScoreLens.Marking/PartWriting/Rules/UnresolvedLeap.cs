using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A large or dissonant leap that does not turn back.</summary>
internal sealed class UnresolvedLeap : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.UnresolvedLeap;

    /// <inheritdoc/>
    public override string Sentence =>
        "After a leap of a sixth or more a voice turns back; a leap of a seventh or a diminished interval turns back by step.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "Sixths and octaves in the bass; a dissonant leap that turns back by step only after other notes of the same harmony; inside "
        + "one chord; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Fux, Gradus ad Parnassum (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.25;

    internal override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from step in MelodicSteps.Of(progression)
        where !step.IsInOneChord && (UnresolvedLeaps.IsDissonant(step.Interval.Size)
            ? !step.TurnsBackByStep && (step.GoesOn || !step.TurnsBackWithTheHarmony)
            : step.Interval.Size.Steps >= 5 && step.To.Voice != progression.Bass && step.GoesOn)
        select At(step.To.Onset, new StepFacts(step.From, step.To), step.From, step.To);
}
