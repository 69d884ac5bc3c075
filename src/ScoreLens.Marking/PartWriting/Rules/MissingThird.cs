using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A chord without its third.</summary>
internal sealed class MissingThird : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.MissingThird;

    /// <inheritdoc/>
    public override string Sentence => "Every chord has its third: without it major and minor cannot be told apart.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "A suspension that resolves to the third, also with an ornament or after the chord has changed; chords that not all voices "
        + "sound or that are shorter than a beat; a bass that passes by step under held voices; a third heard in the same harmony just "
        + "before or after.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5; Aldwell and Schachter, ch. 5 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        VoicedChord? said = null;
        foreach (var chord in progression.Chords)
        {
            if (chord.Numeral is not { } numeral || numeral.Quality.IsAugmentedSixth() || chord.Moments.Count == 0) continue;
            if (chord.Reading.Duration < progression.Score.MeasureAt(chord.Reading.Onset).Time.PulseLength) continue;
            var third = chord.Tones[1];
            if (chord.Moments.Any(m => m.Notes.Any(n => n?.Pitch.Tone.IsEnharmonicWith(third) == true || n is null))) continue;
            if (IsHeardNextTo(progression, chord, third) || IsUnderPassingBass(progression, chord)) continue;
            var first = chord.Moments[0];
            if (first.Notes.OfType<LineNote>().Any(n => IsSuspendedAbove(progression, n, first, third))) continue;
            var isOneHarmony = said is not null && said == Resolutions.ChordBefore(progression, chord) && said.IsSameHarmonyAs(chord);
            said = chord;
            // V without a third and the V7 that grows out of it are one fault.
            if (isOneHarmony) continue;
            yield return At(first.Onset, new MissingToneFacts(numeral, third), first.Notes.OfType<LineNote>());
        }
    }

    // Where the bass passes by step under voices that are held, no chord is struck that could want a third.
    private static bool IsUnderPassingBass(VoicedProgression progression, VoicedChord chord) =>
        chord.Moments[0] is var moment && moment.Notes[progression.Bass] is { } bass && bass.Onset == moment.Onset
        && moment.Notes.Take(progression.Bass).All(n => n is null || n.Onset < moment.Onset)
        && progression.Before(bass) is { } before && progression.After(bass) is { } after
        && Interval.Between(before.Pitch, bass.Pitch) is { IsStep: true } into
            && Interval.Between(bass.Pitch, after.Pitch) is { IsStep: true } outOf
        && into.Direction == outOf.Direction;

    // V and the V7 that grows out of it are one harmony: the third need not be struck again.
    private static bool IsHeardNextTo(VoicedProgression progression, VoicedChord chord, Tone third) =>
        new[] { Resolutions.ChordBefore(progression, chord), Resolutions.NextChord(progression, chord) }.Any(other =>
            other is { Numeral: not null } && other.IsSameHarmonyAs(chord)
            && other.Moments.Any(m => m.Notes.Any(n => n?.Pitch.Tone.IsEnharmonicWith(third) == true)));

    // Between a suspension and its resolution an ornament of a note or two may stand, shorter than the suspension itself.
    private static bool IsSuspendedAbove(VoicedProgression progression, LineNote note, Moment moment, Tone third)
    {
        if (progression.IsChordNote(note, moment)) return false;
        var after = progression.After(note);
        for (var notes = 0; notes < 3 && after is not null && (notes == 0 || after.Onset - note.End <= note.End - note.Onset); notes++,
            after = progression.After(after))
            if (after.Pitch.Tone.Letter == third.Letter && Math.Abs(after.Pitch.Staff - note.Pitch.Staff) == 1) return true;
        return false;
    }
}
