namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Two voices that reach the same perfect interval, octaves apart, from opposite directions.</summary>
public abstract class ContraryMotion : PartWritingRule
{
    /// <inheritdoc/>
    public override string Exceptions => "One pitch class moved by octaves in both voices; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Aldwell and Schachter, Harmony and Voice Leading, ch. 5 (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    private protected abstract string Interval { get; }

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from m in PairMotion.Of(progression)
        where m.IsContrary && IsKept(m) && !Motions.IsOneToneMoved(m) && !Motions.IsAnticipation(progression, m)
        select At(
            m.Onset,
            $"{Say.Voices(progression, m.UpperTo, m.LowerTo)} make {Interval} by contrary motion: {m.Words}.",
            "Contrary motion does not mend them: take another chord note in one of the two voices.",
            m.Notes);

    private protected abstract bool IsKept(PairMotion motion);
}

/// <summary>A fifth and a twelfth one after the other by contrary motion.</summary>
public sealed class FifthsByContraryMotion : ContraryMotion
{
    /// <inheritdoc/>
    public override string Name => "fifths-by-contrary-motion";

    /// <inheritdoc/>
    public override string Sentence => "A perfect fifth does not move to a twelfth, nor a twelfth to a fifth, by contrary motion.";

    private protected override string Interval => "fifths";

    private protected override bool IsKept(PairMotion motion) => motion.First.IsFifth && motion.Second.IsFifth;
}

/// <summary>Unison, octave or double octave one after the other by contrary motion.</summary>
public sealed class OctavesByContraryMotion : ContraryMotion
{
    /// <inheritdoc/>
    public override string Name => "octaves-by-contrary-motion";

    /// <inheritdoc/>
    public override string Sentence => "An octave does not move to a unison or a double octave by contrary motion.";

    private protected override string Interval => "octaves";

    private protected override bool IsKept(PairMotion motion) => motion.First.IsOctave && motion.Second.IsOctave;
}
