using ScoreLens.Sonorities;

namespace ScoreLens.Reading.Model;

/// <summary>
/// Tones that are held while the harmony goes on: a chord over a pedal is named without it (Kostka and Payne, Tonal Harmony, on pedal
/// points; from memory). A note is taken for one by its length alone. A last chord that is held whole has no moving tone, and is heard as
/// it sounds.
/// </summary>
internal static class Pedals
{
    // In quarter notes: two measures of four.
    private const int Longest = 8;

    /// <summary>Whether a note is a pedal.</summary>
    public static bool IsPedal(SoundingNote note) => note.End - note.Onset > Longest;

    /// <summary>The lowest note of a vertical that is no pedal; its bass where there is none, null in silence.</summary>
    public static SoundingNote? MovingBass(Sonority sonority)
    {
        foreach (var note in sonority.Notes)
            if (!IsPedal(note)) return note;
        return sonority.Bass;
    }
}
