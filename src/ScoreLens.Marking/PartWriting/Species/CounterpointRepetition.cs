using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A note that is struck again at once.</summary>
internal sealed class CounterpointRepetition : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointRepetition;

    /// <inheritdoc/>
    public override string Sentence => "A counterpoint does not repeat a note at once.";

    /// <inheritdoc/>
    public override string Exceptions => "Once in an exercise of the first species.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(TwoVoices voices) =>
        voices.Line.Zip(voices.Line.Skip(1)).Where(p => p.First.Pitch == p.Second.Pitch).Skip(voices.Species == 1 ? 1 : 0)
            .Select(p => At(p.Second.Onset, new SpeciesStepFacts(p.First, p.Second), p.First, p.Second));
}
