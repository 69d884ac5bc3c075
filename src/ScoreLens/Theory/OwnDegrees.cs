namespace ScoreLens.Theory;

/// <summary>The degrees of a key that applied chords point at: roots of its scale's own major and minor triads.</summary>
internal static class OwnDegrees
{
    /// <summary>Whether a tone is the root of a major or minor triad of the key's own scale other than the tonic, by sound.</summary>
    public static bool Has(Key key, Tone root)
    {
        var above = Tone.Semitones(key.Tonic, root);
        return key.IsMinor ? above is 3 or 5 or 7 or 8 or 10 : above is 2 or 4 or 5 or 7 or 9;
    }

    /// <summary>
    /// The degree that a tone is the root of, as what an applied chord points at, in the mode of the scale's own triad, or that of
    /// <paramref name="mode"/> where the degree is not the scale's. The fifth degree is V in both modes: what is applied to it leads to a
    /// dominant, as experts write it (1,152 times /V and 326 times /v in the minor keys of the corpus).
    /// </summary>
    /// <param name="key">The key.</param>
    /// <param name="root">The tone.</param>
    /// <param name="mode">Mode of the chord that stands there; major where it is not known.</param>
    public static AppliedTarget? Target(Key key, Tone root, Mode? mode = null)
    {
        var above = root.NearestTo(key.Tonic + 1) - key.Tonic;
        var own = key.IsMinor
            ? above switch { 0 or -1 => Mode.Minor, -3 or 1 or -4 or -2 => Mode.Major, _ => (Mode?)null }
            : above switch { 2 or 4 or 3 => Mode.Minor, 0 or -1 or 1 => Mode.Major, _ => null };
        var known = own ?? mode ?? Mode.Major;
        return DegreeFifths.TryFind(above, key.Mode, known == Mode.Major ? ChordQuality.Major : ChordQuality.Minor, out var degree,
            out var alteration)
            ? new AppliedTarget(alteration, degree, known)
            : null;
    }
}
