using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Chromatic chords that only pass or return: voices moving by step between two chords of the key.</summary>
internal static class PassingChords
{
    /// <summary>
    /// Whether a chord without another explanation is short beside both its neighbours, which are of the key, and each of its
    /// tones from outside the key comes and goes by step.
    /// </summary>
    public static bool IsOne(ChordInContext chord)
    {
        if (chord.Before is not { IsOutside: false } before || chord.After is not { IsOutside: false } after) return false;
        if (before.Key != chord.Key || after.Key != chord.Key) return false;
        if (chord.Reading.Duration > 1 || chord.Reading.Duration * 2 > Fraction.Min(before.Reading.Duration,
            after.Reading.Duration)) return false;
        return chord.Tones.Where(t => !chord.Key.Contains(t)).All(t =>
            before.Tones.Any(b => IsStep(b, t)) && VoiceLeading.Of(t, chord, after) is { IsHeld: false });
    }

    private static bool IsStep(Tone a, Tone b) => Tone.Semitones(a, b) is 1 or 2 or 10 or 11;
}
