using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>Outer voices that reach a perfect interval in the same direction, the soprano by leap.</summary>
internal abstract class DirectMotion : PartWritingRule
{
    /// <inheritdoc/>
    public override string Exceptions =>
        "Soprano moving by step (under the strict option only over a bass that moves a fourth or fifth, or as horn fifths); "
        + "a bass that only changes its octave; motion inside one chord; inner voices; the step from one phrase to the next.";

    /// <inheritdoc/>
    public override string Source =>
        "Aldwell and Schachter, Harmony and Voice Leading, ch. 5; Kostka and Payne, Tonal Harmony, ch. 5 (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.5;

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        from m in PairMotion.Of(progression)
        where m.UpperTo.Voice == 0 && m.LowerTo.Voice == progression.Bass
            && m.IsSimilar && Reaches(m) && !IsAllowed(progression, m)
        select At(m.Onset, new MotionFacts(m), m.Notes);

    private protected abstract bool Reaches(PairMotion motion);

    private static bool IsAllowed(VoicedProgression progression, PairMotion m)
    {
        if (progression.IsOneHarmonyInto(m.Onset) || m.LowerFrom.Pitch.Tone == m.LowerTo.Pitch.Tone) return true;
        if (!progression.StartsAsChordNote(m.UpperTo) || !progression.StartsAsChordNote(m.LowerTo)) return true;
        if (!m.Upper.IsStep) return false;
        if (!progression.Options.StrictDirectMotion) return true;
        var bass = m.Lower.Size.Steps;
        return bass is 3 or 4 || (progression.Options.HornFifths && IsHornFifth(progression, m));
    }

    // The second degree over the fifth, reached from the third over the first or the first over the third.
    private static bool IsHornFifth(VoicedProgression progression, PairMotion m)
    {
        if (progression.ChordAt(m.Onset)?.Reading.Key is not { } key) return false;
        return m.Second.IsFifth && m.UpperTo.Pitch.Tone == key.Degree(2) && m.LowerTo.Pitch.Tone == key.Degree(5)
            && ((m.UpperFrom.Pitch.Tone == key.Degree(3) && m.LowerFrom.Pitch.Tone == key.Degree(1))
                || (m.UpperFrom.Pitch.Tone == key.Degree(1) && m.LowerFrom.Pitch.Tone == key.Degree(3)));
    }
}

/// <summary>Direct (hidden) fifths between the outer voices.</summary>
internal sealed class DirectFifths : DirectMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.DirectFifths;

    /// <inheritdoc/>
    public override string Sentence => "Soprano and bass do not reach a perfect fifth in the same direction when the soprano leaps.";

    private protected override bool Reaches(PairMotion motion) => motion.Second.IsFifth && !motion.First.IsFifth;
}

/// <summary>Direct (hidden) octaves between the outer voices.</summary>
internal sealed class DirectOctaves : DirectMotion
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.DirectOctaves;

    /// <inheritdoc/>
    public override string Sentence => "Soprano and bass do not reach an octave in the same direction when the soprano leaps.";

    private protected override bool Reaches(PairMotion motion) => motion.Second.IsOctave && !motion.First.IsOctave;
}
