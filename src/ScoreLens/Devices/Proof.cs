namespace ScoreLens.Devices;

/// <summary>
/// Whether the score proves a device: the tone that makes it one sounds, and three different tones sound while the chord lasts, at once or
/// broken; what the score's own chord symbol writes counts as sounding. Fewer do where the same chord sounds whole just before or after.
/// "What nobody plays or writes is a reading, not a device" (common practice).
/// </summary>
internal static class Proof
{
    private const int FewestTones = 3;

    /// <summary>What speaks against a device; null where nothing does, or nothing is known of the notes.</summary>
    public static Doubt? DoubtOf(ChordInContext chord, DeviceFinding finding)
    {
        if (chord.Sonorities.Count == 0) return null;
        if (finding.Reason is null) return Doubt.ToneMissing;
        return chord.SoundingPitchClasses >= FewestTones || IsWholeIn(chord.Before, chord) || IsWholeIn(chord.After, chord) ? null
            : Doubt.TooFewTones;
    }

    private static bool IsWholeIn(ChordInContext? neighbour, ChordInContext chord) =>
        neighbour is not null && chord.IsSameHarmony(neighbour) && neighbour.SoundingPitchClasses >= FewestTones
        && neighbour.Tones.All(t => neighbour.Sounded(t) is not null);
}
