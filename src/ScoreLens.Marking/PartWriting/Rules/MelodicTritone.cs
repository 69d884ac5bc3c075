using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>An augmented fourth in one voice, or a diminished fifth that does not turn back.</summary>
internal sealed class MelodicTritone : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.MelodicTritone;

    /// <inheritdoc/>
    public override string Sentence => "No voice leaps an augmented fourth; a diminished fifth must turn back by step.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "Inside one chord; a diminished fifth that turns back by step, at once or after other notes of the same harmony; the step "
        + "from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Fux, Gradus ad Parnassum (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from step in MelodicSteps.Of(progression)
        where !step.IsInOneChord
            && (step.Interval.Size is { Steps: 3, Semitones: 6 }
                || (step.Interval.Size is { Steps: 4, Semitones: 6 } && !step.TurnsBackByStep && !step.TurnsBackWithTheHarmony))
        select At(step.To.Onset, new StepFacts(step.From, step.To), step.From, step.To);
}
