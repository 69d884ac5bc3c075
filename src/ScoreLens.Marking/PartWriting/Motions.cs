namespace ScoreLens.Marking.PartWriting;

/// <summary>What handbooks set apart from the motion of two voices.</summary>
internal static class Motions
{
    /// <summary>Each voice keeps its tone and only changes its octave: the chord is rearranged, nothing moves.</summary>
    public static bool IsOneToneMoved(PairMotion motion) =>
        motion.UpperFrom.Pitch.Tone == motion.UpperTo.Pitch.Tone && motion.LowerFrom.Pitch.Tone == motion.LowerTo.Pitch.Tone;

    /// <summary>The second pair is formed by a note foreign to the chord that anticipates the next note of its voice.</summary>
    public static bool IsAnticipation(VoicedProgression progression, PairMotion motion) =>
        Anticipates(progression, motion.UpperTo) || Anticipates(progression, motion.LowerTo);

    private static bool Anticipates(VoicedProgression progression, LineNote note) =>
        !progression.StartsAsChordNote(note) && progression.After(note) is { } next && next.Pitch == note.Pitch;
}
