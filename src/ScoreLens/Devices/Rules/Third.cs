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
        if (other is null || chord.TriadMode is not { } mode || other.TriadMode is not { } otherMode || chord.IsDominantSeventh) return null;
        if (mode == otherMode != isSameMode || Tone.Semitones(other.Root, chord.Root) is not (3 or 4 or 8 or 9)) return null;
        var common = chord.Tones.Take(3).Count(t => other.Tones.Take(3).Any(t.IsEnharmonicWith));
        return common == (isSameMode ? 1 : 0) ? other : null;
    }

    public static string Interval(ChordInContext from, ChordInContext to) => Tone.Semitones(from.Root, to.Root) switch
    {
        3 => "a minor third up",
        4 => "a major third up",
        8 => "a major third down",
        _ => "a minor third down",
    };

    public static string Name(ChordInContext chord) => $"{chord.Tones[0]} {(chord.TriadMode == Mode.Minor ? "minor" : "major")}";
}
