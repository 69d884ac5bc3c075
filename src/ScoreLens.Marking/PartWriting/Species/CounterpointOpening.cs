using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A counterpoint that does not begin with a perfect consonance.</summary>
internal sealed class CounterpointOpening : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointOpening;

    /// <inheritdoc/>
    public override string Sentence =>
        "A counterpoint begins with a perfect consonance: unison, fifth or octave above the cantus firmus, unison or octave below it.";

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        if (voices.Soundings is [var first, ..] && !(first.Interval.IsOctave || (first.Interval.IsFifth && !voices.IsCantusUpper)))
            yield return At(first.Onset, new SpeciesPairFacts(first.Line, first.Cantus, voices.Species), first.Line, first.Cantus);
    }
}
