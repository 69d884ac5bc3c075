using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A highest note that comes more than once.</summary>
internal sealed class CounterpointClimax : SpeciesRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.CounterpointClimax;

    /// <inheritdoc/>
    public override string Sentence => "A counterpoint has one highest note, which comes once.";

    /// <inheritdoc/>
    public override string Exceptions => "The closing note may be as high.";

    /// <inheritdoc/>
    public override double Weight => 0.25;

    internal override IEnumerable<Fault> Find(TwoVoices voices)
    {
        var top = voices.Line.Max(n => n.Pitch.Midi);
        var highest = voices.Line.SkipLast(1).Where(n => n.Pitch.Midi == top).ToArray();
        if (highest.Length > 1) yield return At(highest[1].Onset, new SpeciesStepFacts(highest[0], highest[1]), highest);
    }
}
