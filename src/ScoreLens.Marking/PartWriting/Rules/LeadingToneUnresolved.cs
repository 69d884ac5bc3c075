using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A leading tone that does not rise to the tonic.</summary>
internal sealed class LeadingToneUnresolved : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.LeadingToneUnresolved;

    /// <inheritdoc/>
    public override string Sentence => "The leading tone rises by step to the tonic when V or viio goes to I or vi.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "In an inner voice it may fall to the fifth of I (so that I is complete), or by step in V–vi in major; it may stay, fall by a "
        + "chromatic semitone in a chain of dominants, fall by step in a line that comes down from the tonic (8–7–6), hand its "
        + "resolution to a voice that takes that very note, "
        + "leave it to another voice that has the leading tone too (the doubling is the fault), or be left for another note of the chord "
        + "before the chord changes; the end of a phrase frees it.";

    /// <inheritdoc/>
    public override string Source =>
        "Aldwell and Schachter, Harmony and Voice Leading, ch. 6 and 7; Kostka and Payne, ch. 5 and 13 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (!chord.IsDominant || chord.Moments.Count == 0 || !chord.Has(chord.LeadingTone)) continue;
            if (Resolutions.NextChord(progression, chord) is not { Numeral: not null } next || next.Has(chord.LeadingTone)) continue;
            var isTonic = next.Tones[0] == chord.Context.Tonic;
            // Where the key changes with the chord, or the chord is a dominant itself, it is no sixth degree that deceives.
            var isDeceptive = next.Tones[0] - chord.Context.Tonic is 3 or -4 && next.Reading.Key == chord.Reading.Key && !next.IsDominant;
            if (!(isTonic || isDeceptive) || next.Numeral.Kind != NumeralKind.Plain) continue;
            if (next.Numeral.Inversion == 2 || Resolutions.IsPhraseBetween(progression, chord, next)) continue;
            var left = (
                from voice in Enumerable.Range(0, progression.Voices.Count)
                let note = Resolutions.LastChordNote(progression, chord, voice)
                where note is not null && note.Pitch.Tone == chord.LeadingTone
                let goal = Resolutions.Next(progression, note)
                where goal is not null
                select (Voice: voice, Note: note, Goal: goal)).ToArray();
            if (left.Length > 1 && Array.Exists(left, l => Interval.Between(l.Note.Pitch, l.Goal.Pitch) is
                {
                    Steps: 1,
                    Semitones: 1
                })) continue;
            foreach (var (_, note, goal) in left.Where(l => !IsResolved(progression, chord, next, l.Note, l.Goal, isDeceptive)))
                yield return At(goal.Onset, new TendencyFacts(note, goal, chord.Context.Tonic), note, goal);
        }
    }

    private static bool IsResolved(
        VoicedProgression progression, VoicedChord chord, VoicedChord next, LineNote note, LineNote goal, bool isDeceptive)
    {
        var motion = Interval.Between(note.Pitch, goal.Pitch);
        if (motion is { Steps: 1, Semitones: 1 } or { Steps: 0, Semitones: -1 }) return true;
        if (motion.Steps == -1 && progression.Before(note) is { } before
            && Interval.Between(before.Pitch, note.Pitch) is { Steps: -1 }) return true;
        if (progression.IsOuter(note.Voice)) return false;
        if (!isDeceptive && goal.Pitch.Tone == chord.Context.Tonic + 1 && motion is { Steps: -2 }) return true;
        if (isDeceptive && motion is { Steps: -1, Semitones: -2 }) return true;
        return Resolutions.IsTakenOver(next, note, p => p.Tone == chord.Context.Tonic && p.Midi == note.Pitch.Midi + 1);
    }
}
