using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>Fifths or octaves from one strong beat to the next, with a note between.</summary>
internal sealed class CounterpointStrongBeats : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointStrongBeats;

    /// <inheritdoc/>
    public override string Sentence => "In second species a weak note does not hide fifths or octaves from one strong beat to the next.";

    /// <inheritdoc/>
    public override string Exceptions => "A weak note that leaps a fourth or more; voices that stay.";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        if (voices.Species != 2) yield break;
        var strong = voices.Soundings.Where(s => s.IsStrong && !s.IsHeld).ToArray();
        foreach (var (before, after) in strong.Zip(strong.Skip(1)))
        {
            var between = voices.Before(after.Line);
            if (between is null || between == before.Line || !before.IsPerfect || !after.IsPerfect || before.Steps != after.Steps
                || before.Cantus.Pitch == after.Cantus.Pitch) continue;
            if (Math.Abs(Interval.Between(before.Line.Pitch, between.Pitch).Steps) >= 3) continue;
            yield return At(after.Onset, new SpeciesPairFacts(after.Line, after.Cantus, voices.Species), before.Line, before.Cantus,
                after.Line,
                after.Cantus);
        }
    }
}
