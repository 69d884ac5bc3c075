using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>Too many thirds or sixths in a row.</summary>
internal sealed class CounterpointRun : SpeciesRule
{
    private const int Most = 3;

    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointRun;

    /// <inheritdoc/>
    public override string Sentence => "No more than three thirds, or three sixths, follow each other: the voices would lose their "
        + "independence.";

    /// <inheritdoc/>
    public override string Exceptions => "Third and fourth species.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        if (voices.Species > 2) yield break;
        var count = 0;
        Sounding? before = null;
        foreach (var sounding in voices.Soundings.Where(s => s.IsStrong))
        {
            count = sounding.Steps is 2 or 5 && before is not null && before.Interval.Steps == sounding.Interval.Steps ? count + 1 : 1;
            before = sounding;
            if (count == Most + 1)
                yield return At(sounding.Onset, new SpeciesPairFacts(sounding.Line, sounding.Cantus, voices.Species), sounding.Line,
                    sounding.Cantus);
        }
    }
}
