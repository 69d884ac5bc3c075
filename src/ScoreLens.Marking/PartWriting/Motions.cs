namespace ScoreLens.Marking.PartWriting;

/// <summary>What handbooks set apart from the motion of two voices.</summary>
internal static class Motions
{
    /// <summary>
    /// The voices have the same two tones before and after, each its own in another octave or the other's: the chord is rearranged,
    /// nothing moves.
    /// </summary>
    public static bool KeepsItsTones(PairMotion motion)
    {
        var (upper, lower) = (motion.UpperFrom.Pitch.Tone, motion.LowerFrom.Pitch.Tone);
        var (upperTo, lowerTo) = (motion.UpperTo.Pitch.Tone, motion.LowerTo.Pitch.Tone);
        return (upper == upperTo && lower == lowerTo) || (upper == lowerTo && lower == upperTo);
    }

    /// <summary>The second pair is formed by a note foreign to the chord that anticipates the next note of its voice.</summary>
    public static bool IsAnticipation(VoicedProgression progression, PairMotion motion) =>
        Anticipates(progression, motion.UpperTo) || Anticipates(progression, motion.LowerTo);

    private static bool Anticipates(VoicedProgression progression, LineNote note) =>
        !progression.StartsAsChordNote(note) && progression.After(note) is { } next && next.Pitch == note.Pitch;
}
