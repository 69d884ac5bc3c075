namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A chordal seventh that does not fall by step.</summary>
public sealed class SeventhUnresolved : PartWritingRule
{
    /// <inheritdoc/>
    public override string Name => "seventh-unresolved";

    /// <inheritdoc/>
    public override string Sentence => "The seventh of a chord falls by step when the chord changes.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "It may be held or repeated while the next chord has it, be delayed or ornamented, pass to another voice inside the chord (as in a voice "
        + "exchange), be changed chromatically, rise by step where the bass takes its resolution (V7–I6) or in I–V43–I6, or pass upwards by step between beats; the end of a phrase frees it.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 12 and 13; Aldwell and Schachter, ch. 7 and 8 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (chord.Seventh is not { } seventh || chord.Moments.Count == 0) continue;
            if (Resolutions.NextChord(progression, chord) is not { Numeral: not null } next) continue;
            if (next.Has(seventh) || next.IsSameHarmonyAs(chord) || Resolutions.IsPhraseBetween(progression, chord, next)) continue;
            for (var voice = 0; voice < progression.Voices.Count; voice++)
            {
                if (Resolutions.LastChordNote(progression, chord, voice) is not { } note || note.Pitch.Tone != seventh) continue;
                if (Resolutions.Next(progression, note) is not { } goal || IsResolved(progression, chord, next, note, goal)) continue;
                var motion = Interval.Between(note.Pitch, goal.Pitch);
                yield return At(
                    goal.Onset,
                    $"The seventh {Say.Tone(note)} in the {progression.Name(voice)} goes {Say.Direction(motion)} a {motion} to {Say.Tone(goal)}.",
                    $"Lead {Say.Tone(note)} down by step.",
                    note, goal);
            }
        }
    }

    private static bool IsResolved(VoicedProgression progression, VoicedChord chord, VoicedChord next, LineNote note, LineNote goal)
    {
        var motion = Interval.Between(note.Pitch, goal.Pitch);
        if (motion is { Steps: -1, Direction: < 0 } || motion.Steps == 0 || Resolutions.IsPassing(progression, note)) return true;
        if (motion is not { Steps: 1, Direction: > 0 } || note.Voice == progression.Bass) return false;
        // It may rise by step where the bass takes the resolution, or in a rising I–V43–I6.
        var bassGoal = next.Moments[0].Notes[progression.Bass]?.Pitch.Tone;
        return bassGoal is { } bass && (note.Pitch.Tone.Step - bass.Step + 7) % 7 == 1 && chord.Numeral!.Inversion is 0 or 2;
    }
}
