using ScoreLens.Theory;

namespace ScoreLens.Devices.Rules;

/// <summary>Triads whose roots lie a third apart.</summary>
internal static class Third
{
    /// <summary>
    /// The other chord where both are major or minor (a major or minor seventh on top changes nothing; a dominant seventh does),
    /// their roots lie a third apart and they have one tone in common (same quality) or none (opposite quality).
    /// </summary>
    public static ChordInContext? From(ChordInContext chord, ChordInContext? other, bool isSameMode)
    {
        if (other is null || chord.TriadMode is not { } mode || other.TriadMode is not { } otherMode
            || chord.IsDominantSeventh) return null;
        if (mode == otherMode != isSameMode || Tone.Semitones(other.Root, chord.Root) is not (3 or 4 or 8 or 9)) return null;
        var common = chord.Tones.Take(3).Count(t => other.Tones.Take(3).Any(t.IsEnharmonicWith));
        return common == (isSameMode ? 1 : 0) ? other : null;
    }

    /// <summary>The reason of a mediant; null where a tone from outside the key that would tell it does not sound.</summary>
    public static ThirdReason? Reason(ChordInContext chord, ChordInContext other, SoundedTone? common, bool isHeld)
    {
        if (chord.Tones.Take(3).Where(t => !chord.Key.Contains(t)).Any(t => chord.Sounded(t) is null)) return null;
        return new ThirdReason(chord.Named, other.Named, ReferenceEquals(other, chord.Before), Tone.Semitones(other.Root, chord.Root),
            common, isHeld);
    }
}
