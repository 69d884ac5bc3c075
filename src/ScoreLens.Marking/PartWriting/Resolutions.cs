using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Where notes that want to move go.</summary>
internal static class Resolutions
{
    /// <summary>The last chord note of a voice in a chord, or null where it has none.</summary>
    public static LineNote? LastChordNote(VoicedProgression progression, VoicedChord chord, int voice) =>
        progression.ChordNotes(chord, voice).LastOrDefault();

    /// <summary>
    /// The chord note to which a voice goes on from a note, past notes foreign to the chords and past repetitions that are
    /// foreign to the new chord; null where a rest or the end of a phrase comes first.
    /// </summary>
    public static LineNote? Next(VoicedProgression progression, LineNote note)
    {
        for (var at = note; progression.After(at) is { } after && progression.IsConnected(at, after); at = after)
            if (IsChordNoteSomewhere(progression, after)) return after;
        return null;
    }

    /// <summary>The first chord with moments after one, or null at the end.</summary>
    public static VoicedChord? NextChord(VoicedProgression progression, VoicedChord chord) =>
        progression.Chords.Skip(chord.Index + 1).FirstOrDefault(c => c.Moments.Count > 0);

    /// <summary>The last chord with moments before one, or null at the start.</summary>
    public static VoicedChord? ChordBefore(VoicedProgression progression, VoicedChord chord) =>
        progression.Chords.Take(chord.Index).LastOrDefault(c => c.Moments.Count > 0);

    /// <summary>Whether a phrase ends between two chords.</summary>
    public static bool IsPhraseBetween(VoicedProgression progression, VoicedChord from, VoicedChord to) =>
        progression.IsPhraseBetween(from.Moments[0].Onset, to.Moments[0].Onset);

    /// <summary>
    /// Whether another voice than <paramref name="note"/>'s sounds, as the chord changes, the pitch to which <paramref name="note"/> should
    /// go.
    /// </summary>
    public static bool IsTakenOver(VoicedChord next, LineNote note, Func<Pitch, bool> isGoal) =>
        next.Moments[0].Notes.Any(n => n is not null && n.Voice != note.Voice && isGoal(n.Pitch));

    /// <summary>
    /// Whether a note passes: it comes and goes by step and is shorter than a felt beat, so that it ornaments
    /// the line though it may belong to the chord.
    /// </summary>
    public static bool IsPassing(VoicedProgression progression, LineNote note) =>
        progression.Before(note) is { } before && progression.After(note) is { } after
        && note.End - note.Onset < progression.Score.MeasureAt(note.Onset).Time.PulseLength
        && Interval.Between(before.Pitch, note.Pitch).IsStep && Interval.Between(note.Pitch, after.Pitch).IsStep;

    private static bool IsChordNoteSomewhere(VoicedProgression progression, LineNote note)
    {
        for (var moment = progression.MomentAt(note.Onset); moment is not null && moment.Onset < note.End;
            moment = moment.Index + 1 < progression.Moments.Count ? progression.Moments[moment.Index + 1] : null)
            if (progression.IsChordNote(note, moment)) return true;
        return false;
    }
}
