using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>An augmented second in one voice.</summary>
internal sealed class MelodicAugmentedSecond : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.MelodicAugmentedSecond;

    /// <inheritdoc/>
    public override string Sentence => "No voice moves by an augmented second.";

    /// <inheritdoc/>
    public override string Exceptions => "Inside one diminished seventh chord; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Aldwell and Schachter, Harmony and Voice Leading, ch. 5; Kostka and Payne, ch. 5 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from step in MelodicSteps.Of(progression)
        where step.Interval.Size is { Steps: 1, Semitones: 3 } && !step.IsInOneChord
        select At(step.To.Onset, new StepFacts(step.From, step.To), step.From, step.To);
}
