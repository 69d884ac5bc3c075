namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Two voices that keep a perfect interval while both move the same way.</summary>
public abstract class ParallelMotion : PartWritingRule
{
    /// <inheritdoc/>
    public override string Exceptions =>
        "Repeated notes; one pitch class moved by octaves in both voices; a note that anticipates the next; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Fux, Gradus ad Parnassum, first species; Kostka and Payne, Tonal Harmony, ch. 5 (from memory).";

    private protected abstract string Interval { get; }

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from m in PairMotion.Of(progression)
        where m.IsSimilar && IsKept(m) && !Motions.IsOneToneMoved(m) && !Motions.IsAnticipation(progression, m)
        select At(
            m.Onset,
            $"{Say.Voices(progression, m.UpperTo, m.LowerTo)} move in parallel {Interval}: {m.Words}.",
            "Move one of the two voices the other way, or let it keep its note.",
            m.Notes);

    private protected abstract bool IsKept(PairMotion motion);
}

/// <summary>Parallel fifths.</summary>
public sealed class ParallelFifths : ParallelMotion
{
    /// <inheritdoc/>
    public override string Name => "parallel-fifths";

    /// <inheritdoc/>
    public override string Sentence => "Two voices a perfect fifth apart do not move to another perfect fifth in the same direction.";

    private protected override string Interval => "fifths";

    private protected override bool IsKept(PairMotion motion) => motion.First.IsFifth && motion.Second.IsFifth;
}

/// <summary>Parallel octaves, and motion in the same direction from unison to octave and back.</summary>
public sealed class ParallelOctaves : ParallelMotion
{
    /// <inheritdoc/>
    public override string Name => "parallel-octaves";

    /// <inheritdoc/>
    public override string Sentence => "Two voices an octave apart do not move to another octave in the same direction; four voices would be three.";

    private protected override string Interval => "octaves";

    private protected override bool IsKept(PairMotion motion) =>
        motion.First.IsOctave && motion.Second.IsOctave && (motion.First.Steps != 0 || motion.Second.Steps != 0);
}

/// <summary>Parallel unisons.</summary>
public sealed class ParallelUnisons : ParallelMotion
{
    /// <inheritdoc/>
    public override string Name => "parallel-unisons";

    /// <inheritdoc/>
    public override string Sentence => "Two voices on one note do not move together to another one; they would be one voice.";

    private protected override string Interval => "unisons";

    private protected override bool IsKept(PairMotion motion) =>
        motion.First.IsOctave && motion.Second.IsOctave && motion.First.Steps == 0 && motion.Second.Steps == 0;
}
