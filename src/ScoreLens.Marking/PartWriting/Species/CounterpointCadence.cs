using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A close that is not reached by step from both sides.</summary>
internal sealed class CounterpointCadence : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointCadence;

    /// <inheritdoc/>
    public override string Sentence => "A counterpoint closes on the unison or octave, which both voices reach by step in contrary motion.";

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        if (voices.Soundings is not [.., var last] || voices.Cantus.Count < 2 || voices.Before(last.Line) is not { } before) yield break;
        var line = Interval.Between(before.Pitch, last.Line.Pitch);
        var cantus = Interval.Between(voices.Cantus[^2].Pitch, voices.Cantus[^1].Pitch);
        if (last.Interval.IsOctave && line.IsStep && cantus.IsStep && line.Direction == -cantus.Direction) yield break;
        yield return At(last.Onset, new SpeciesPairFacts(last.Line, last.Cantus, voices.Species), last.Line, last.Cantus);
    }
}
