namespace ScoreLens.Reharmonising.Voicing;

/// <summary>
/// What the search over voicings weighs, in semitones away from the old note where nothing else is said; docs/reharmonising.md explains
/// them. The values are a choice of ours.
/// </summary>
internal static class VoicingCosts
{
    /// <summary>
    /// New parallel fifths, octaves or unisons; a leading tone, seventh or chromatic tone that two voices have at once. A setting with one
    /// is not written.
    /// </summary>
    public const double Fault = 100;

    /// <summary>A member without which it is another chord. A setting without it is not written.</summary>
    public const double MissingEssential = 60;

    /// <summary>The fifth of a triad that is missing; a member of a chord of four tones.</summary>
    public const double MissingOfTriad = 8, MissingOther = 2.5;

    /// <summary>A semitone of motion from the note before or to the note after; a leap beyond a third on top.</summary>
    public const double Semitone = 0.5, Leap = 2;

    /// <summary>A seventh that does not fall by step, or a leading tone that does not rise; dearer than a fifth left out.</summary>
    public const double Unresolved = 4;

    /// <summary>
    /// A semitone away from the old note for a voice that comes from a note or goes to one, and for one that does neither.
    /// </summary>
    public const double AwayConnected = 0.3, Away = 1;

    /// <summary>Two voices on one pitch that had two; the same for notes that do not sound at once, as in a broken chord.</summary>
    public const double Unison = 5, RepeatedInFigure = 2;

    /// <summary>The third voice and every one beyond it on one tone.</summary>
    public const double Crowded = 2;

    /// <summary>
    /// More than an octave between neighbours above the bass where there was none; a semitone of change in their distance.
    /// </summary>
    public const double Gap = 6, Spacing = 0.15;

    /// <summary>A bass that leaps by more than a fifth, the octave left aside; by more than an octave.</summary>
    public const double BassLeap = 8, BassBeyondOctave = 20;

    /// <summary>A semitone beyond what the part plays elsewhere in the score, inside what its instrument can.</summary>
    public const double Uncomfortable = 1;
}
