using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Degrees of a key in words and as numerals, for sentences.</summary>
internal static class DegreeWords
{
    private static readonly string[] Ordinals = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh"];

    /// <summary><c>the raised fourth degree</c>, <c>the lowered sixth degree</c>, in minor <c>the sixth degree</c>, <c>the leading tone</c>.</summary>
    public static string Of(Key key, Tone tone)
    {
        var above = tone - key.Tonic;
        if (above == 5) return "the leading tone";
        var degree = ((((above * 4) % 7) + 7) % 7) + 1;
        var alteration = (above - key.ScaleFifths[degree - 1]) / 7;
        var change = alteration switch { 0 => "", 1 => "raised ", -1 => "lowered ", > 1 => "doubly raised ", _ => "doubly lowered " };
        return $"the {change}{Ordinals[degree - 1]} degree";
    }

    /// <summary>
    /// The degree that a tone is the root of, as what an applied chord points at; the mode is the scale's own triad's, or that
    /// of <paramref name="chord"/> where the degree is not the scale's.
    /// </summary>
    public static AppliedTarget? Target(Key key, Tone root, ChordInContext? chord = null)
    {
        // V is the dominant in both modes; the minor v is no goal.
        var above = (root.NearestTo(key.Tonic + 1)) - key.Tonic;
        var mode = key.IsMinor
            ? above switch { 0 or -1 => Mode.Minor, -3 or 1 or -4 or -2 => Mode.Major, _ => (Mode?)null }
            : above switch { 2 or 4 or 3 => Mode.Minor, 0 or -1 or 1 => Mode.Major, _ => null };
        var known = mode ?? chord?.TriadMode ?? Mode.Major;
        return DegreeFifths.TryFind(above, key.Mode, known == Mode.Major ? ChordQuality.Major : ChordQuality.Minor, out var degree, out var alteration)
            ? new AppliedTarget(alteration, degree, known)
            : null;
    }

    /// <summary>Whether a tone is the root of a major or minor triad of the key's own scale other than the tonic.</summary>
    public static bool IsOwnDegree(Key key, Tone root)
    {
        var above = ChordInContext.Semitones(key.Tonic, root);
        return key.IsMinor ? above is 3 or 5 or 7 or 8 or 10 : above is 2 or 4 or 5 or 7 or 9;
    }
}
