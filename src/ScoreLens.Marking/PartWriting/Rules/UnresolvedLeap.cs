using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A large or dissonant leap that does not turn back.</summary>
public sealed class UnresolvedLeap : PartWritingRule
{
    /// <inheritdoc/>
    public override string Name => "unresolved-leap";

    /// <inheritdoc/>
    public override string Sentence => "After a leap of a sixth or more a voice turns back; a leap of a seventh or a diminished interval turns back by step.";

    /// <inheritdoc/>
    public override string Exceptions => "Sixths and octaves in the bass; a dissonant leap that turns back by step only after other notes of the same harmony; inside one chord; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Fux, Gradus ad Parnassum (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.25;

    internal override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from step in MelodicSteps.Of(progression)
        where !step.IsInOneChord && (IsDissonant(step.Interval.Size)
            ? !step.TurnsBackByStep && (step.GoesOn || !step.TurnsBackWithTheHarmony)
            : step.Interval.Size.Steps >= 5 && step.To.Voice != progression.Bass && step.GoesOn)
        select At(
            step.To.Onset,
            $"The {progression.Name(step.To.Voice)} leaps {Say.Direction(step.Interval)} a {step.Interval}, {Say.Tone(step.From)} to {Say.Tone(step.To)}, and does not turn back{(IsDissonant(step.Interval.Size) ? " by step" : "")}.",
            IsDissonant(step.Interval.Size) ? "Avoid the leap, or move one step back after it." : "After the leap move back the other way, best by step.",
            step.From, step.To);

    private static bool IsDissonant(Interval size) =>
        size is { Steps: 3, Semitones: 4 } or { Steps: 6 } or { Steps: 5, Semitones: > 9 } or { Steps: 4, Semitones: > 7 } or { Steps: > 7 };
}
