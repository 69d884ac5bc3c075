using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A melodic interval that the counterpoint does not have.</summary>
internal sealed class CounterpointLeap : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointLeap;

    /// <inheritdoc/>
    public override string Sentence =>
        "A counterpoint moves by seconds, thirds, perfect fourths and fifths, the minor sixth upwards, and the octave.";

    internal override IEnumerable<Fault> Find(TwoVoices voices) =>
        from pair in voices.Line.Zip(voices.Line.Skip(1))
        let step = Interval.Between(pair.First.Pitch, pair.Second.Pitch)
        where !IsSung(step)
        select At(pair.Second.Onset, new SpeciesStepFacts(pair.First, pair.Second), pair.First, pair.Second);

    private static bool IsSung(Interval step) => (step.Size.Steps, step.Size.Semitones) switch
    {
        (0, 0) or (1, 1 or 2) or (2, 3 or 4) or (3, 5) or (4, 7) or (7, 12) => true,
        (5, 8) => step.Direction > 0,
        _ => false,
    };
}
