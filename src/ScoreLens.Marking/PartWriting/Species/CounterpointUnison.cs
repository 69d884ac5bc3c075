using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A unison inside the exercise.</summary>
internal sealed class CounterpointUnison : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointUnison;

    /// <inheritdoc/>
    public override string Sentence => "The voices meet in a unison only at the beginning and at the end.";

    /// <inheritdoc/>
    public override string Exceptions => "From the second species on a unison where the cantus firmus does not enter; fourth species.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(TwoVoices voices) => voices.Species == 4 ? [] :
        from s in voices.Soundings.Skip(1).SkipLast(1)
        where s.Interval is { Steps: 0, Semitones: 0 } && s.IsStrong && s.Cantus.Place > 0 && s.Cantus.Place + 1 < voices.Cantus.Count
        select At(s.Onset, new SpeciesPairFacts(s.Line, s.Cantus, voices.Species), s.Line, s.Cantus);
}
