using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A chordal seventh that does not fall by step.</summary>
internal sealed class SeventhUnresolved : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.SeventhUnresolved;

    /// <inheritdoc/>
    public override string Sentence => "The seventh of a chord falls by step when the chord changes.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "It may be held or repeated while the next chord has it, be delayed or ornamented, fall by step before the chord changes, "
        + "pass to another voice inside the chord "
        + "(as in a voice exchange, or where the bass passes through it), be changed chromatically, "
        + "rise by step where the bass takes its resolution (V7–I6) or in I–V43–I6, or pass upwards by step between beats; the end of a "
        + "phrase frees it.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 12 and 13; Aldwell and Schachter, ch. 7 and 8 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (chord.Seventh is not { } seventh || chord.Moments.Count == 0) continue;
            if (Resolutions.NextChord(progression, chord) is not { Numeral: not null } next) continue;
            if (next.Has(seventh) || next.IsSameHarmonyAs(chord) || Resolutions.IsPhraseBetween(progression, chord, next)) continue;
            var left = (
                from voice in Enumerable.Range(0, progression.Voices.Count)
                let note = Resolutions.LastChordNote(progression, chord, voice)
                where note is not null && note.Pitch.Tone == seventh
                let goal = Resolutions.Next(progression, note)
                where goal is not null
                select (Voice: voice, Note: note, Goal: goal)).ToArray();
            // Where two voices have it, one that falls is enough: the other must not fall with it.
            if (left.Length > 1 && Array.Exists(left, l => FallsByStep(progression, l.Note, l.Goal))) continue;
            foreach (var (_, note, goal) in left.Where(l => !IsResolved(progression, chord, next, l.Note, l.Goal)))
                yield return At(goal.Onset, new TendencyFacts(note, goal), note, goal);
        }
    }

    private static bool IsResolved(VoicedProgression progression, VoicedChord chord, VoicedChord next, LineNote note, LineNote goal)
    {
        var motion = Interval.Between(note.Pitch, goal.Pitch);
        if (FallsByStep(progression, note, goal) || motion.Steps == 0 || Resolutions.IsPassing(progression, note)) return true;
        if (motion is not { Steps: 1, Direction: > 0 } || note.Voice == progression.Bass) return false;
        // It may rise by step where the bass takes the resolution, or in a rising I–V43–I6.
        var bassGoal = next.Moments[0].Notes[progression.Bass]?.Pitch.Tone;
        return bassGoal is { } bass && (note.Pitch.Tone.Step - bass.Step + 7) % 7 == 1 && SoundingInversion(progression, chord) is 0 or 2;
    }

    // A note foreign to the chords may fill the fall or come before it.
    private static bool FallsByStep(VoicedProgression progression, LineNote note, LineNote goal) =>
        Interval.Between(note.Pitch, goal.Pitch) is { Steps: -1, Direction: < 0 }
        || (progression.After(note) is { } after && progression.IsConnected(note, after)
            && Interval.Between(note.Pitch, after.Pitch) is { Steps: -1, IsStep: true });

    // The bass that sounds when the chord is left, which a numeral for a whole beat need not name.
    private static int SoundingInversion(VoicedProgression progression, VoicedChord chord)
    {
        var bass = Resolutions.LastChordNote(progression, chord, progression.Bass)?.Pitch.Tone;
        var place = chord.Tones.ToList().FindIndex(t => bass?.IsEnharmonicWith(t) == true);
        return place < 0 ? chord.Numeral!.Inversion : place;
    }
}
