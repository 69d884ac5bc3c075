using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Two voices that go from a perfect interval to the same one, octaves apart or not, both of them moving.</summary>
internal abstract class PerfectMotion : PartWritingRule
{
    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from m in PairMotion.Of(progression)
        where IsForbidden(m) && !Motions.KeepsItsTones(m) && !Motions.IsAnticipation(progression, m)
        select At(m.Onset, new MotionFacts(m), m.Notes);

    private protected abstract bool IsForbidden(PairMotion motion);
}

/// <summary>Two voices that keep a perfect interval while both move the same way.</summary>
internal abstract class ParallelMotion : PerfectMotion
{
    /// <inheritdoc/>
    public override string Exceptions =>
        "Repeated notes; voices that keep their pitch classes or exchange them; a note that anticipates the next; the step from one "
        + "phrase to the next.";

    /// <inheritdoc/>
    public override string Source => "Fux, Gradus ad Parnassum, first species; Kostka and Payne, Tonal Harmony, ch. 5 (from memory).";
}

/// <summary>Parallel fifths.</summary>
internal sealed class ParallelFifths : ParallelMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.ParallelFifths;

    /// <inheritdoc/>
    public override string Sentence => "Two voices a perfect fifth apart do not move to another perfect fifth in the same direction.";

    private protected override bool IsForbidden(PairMotion motion) => motion.IsSimilar && motion.First.IsFifth && motion.Second.IsFifth;
}

/// <summary>Parallel octaves, and motion in the same direction from unison to octave and back.</summary>
internal sealed class ParallelOctaves : ParallelMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.ParallelOctaves;

    /// <inheritdoc/>
    public override string Sentence =>
        "Two voices an octave apart do not move to another octave in the same direction; four voices would be three.";

    private protected override bool IsForbidden(PairMotion motion) =>
        motion.IsSimilar && motion.First.IsOctave && motion.Second.IsOctave && (motion.First.Steps != 0 || motion.Second.Steps != 0);
}

/// <summary>Parallel unisons.</summary>
internal sealed class ParallelUnisons : ParallelMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.ParallelUnisons;

    /// <inheritdoc/>
    public override string Sentence => "Two voices on one note do not move together to another one; they would be one voice.";

    private protected override bool IsForbidden(PairMotion motion) =>
        motion.IsSimilar && motion.First.IsOctave && motion.Second.IsOctave && motion.First.Steps == 0 && motion.Second.Steps == 0;
}

/// <summary>Two voices that reach the same perfect interval, octaves apart, from opposite directions.</summary>
internal abstract class ContraryMotion : PerfectMotion
{
    /// <inheritdoc/>
    public override string Exceptions =>
        "Voices that keep their pitch classes or exchange them; a note that anticipates the next; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source =>
        "Kostka and Payne, Tonal Harmony, ch. 5; Aldwell and Schachter, Harmony and Voice Leading, ch. 5 (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;
}

/// <summary>A fifth and a twelfth one after the other by contrary motion.</summary>
internal sealed class FifthsByContraryMotion : ContraryMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.FifthsByContraryMotion;

    /// <inheritdoc/>
    public override string Sentence => "A perfect fifth does not move to a twelfth, nor a twelfth to a fifth, by contrary motion.";

    private protected override bool IsForbidden(PairMotion motion) => motion.IsContrary && motion.First.IsFifth && motion.Second.IsFifth;
}

/// <summary>Unison, octave or double octave one after the other by contrary motion.</summary>
internal sealed class OctavesByContraryMotion : ContraryMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.OctavesByContraryMotion;

    /// <inheritdoc/>
    public override string Sentence => "An octave does not move to a unison or a double octave by contrary motion.";

    private protected override bool IsForbidden(PairMotion motion) => motion.IsContrary && motion.First.IsOctave && motion.Second.IsOctave;
}
