using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A perfect consonance that both voices reach in the same direction.</summary>
internal sealed class CounterpointDirectMotion : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointDirectMotion;

    /// <inheritdoc/>
    public override string Sentence => "Two voices go to a perfect consonance by contrary or oblique motion, never in the same direction.";

    /// <inheritdoc/>
    public override string Exceptions => "Parallel fifths and octaves have remarks of their own; fourth species, whose voices move in "
        + "turn.";

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        if (voices.Species == 4) yield break;
        foreach (var (before, after) in voices.Soundings.Zip(voices.Soundings.Skip(1)))
        {
            if (before.Line == after.Line || before.Cantus == after.Cantus || !after.IsPerfect) continue;
            var line = Interval.Between(before.Line.Pitch, after.Line.Pitch).Direction;
            var cantus = Interval.Between(before.Cantus.Pitch, after.Cantus.Pitch).Direction;
            var isParallel = before.IsPerfect && before.Steps == after.Steps;
            if (line != 0 && line == cantus && !isParallel)
                yield return At(after.Onset, new SpeciesPairFacts(after.Line, after.Cantus, voices.Species), before.Line, before.Cantus,
                    after.Line, after.Cantus);
        }
    }
}
