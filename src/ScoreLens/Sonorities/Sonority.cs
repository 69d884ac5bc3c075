using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>A note that sounds in a vertical, its ties joined.</summary>
/// <param name="Pitch">Spelled concert pitch.</param>
/// <param name="Onset">When it was struck, in quarter notes from the start of the score.</param>
/// <param name="End">When it stops sounding.</param>
/// <param name="Part">Index of its part.</param>
/// <param name="Staff">Staff inside the part, from 1.</param>
/// <param name="Voice">Voice name inside the part.</param>
public sealed record SoundingNote(Pitch Pitch, Fraction Onset, Fraction End, int Part, int Staff, string Voice);

/// <summary>
/// A vertical: what sounds from one onset to the next. Tied notes are joined, so that splitting a long note into tied ones
/// changes nothing. Silence is a vertical without notes.
/// </summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Duration">Quarter notes to the next vertical; above zero.</param>
/// <param name="Notes">What sounds, from the lowest up.</param>
/// <param name="MetricalWeight">0 for the weakest place, 1 for a first beat: halved at every level of the metre below it.</param>
/// <param name="Measure">Index of the measure that holds the onset.</param>
public sealed record Sonority(Fraction Onset, Fraction Duration, IReadOnlyList<SoundingNote> Notes, double MetricalWeight, int Measure)
{
    /// <summary>Where the vertical ends.</summary>
    public Fraction End => Onset + Duration;

    /// <summary>The lowest note, or null in silence.</summary>
    public SoundingNote? Bass => Notes.Count == 0 ? null : Notes[0];

    /// <summary>The highest note, or null in silence.</summary>
    public SoundingNote? Top => Notes.Count == 0 ? null : Notes[^1];

    /// <summary>Whether a note of this vertical is struck here rather than held from before.</summary>
    public bool IsStruck(SoundingNote note) => note.Onset == Onset;
}
