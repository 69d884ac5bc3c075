using ScoreLens.Marking.Facts;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A six-four chord that is neither cadential nor passing, pedal nor arpeggiated.</summary>
internal sealed class SixFourOutOfPlace : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.SixFourOutOfPlace;

    /// <inheritdoc/>
    public override string Sentence =>
        "A six-four chord is cadential (before V, on the stronger beat), passing (its bass between two steps), a pedal (its bass stays) "
        + "or an arpeggiation; no phrase ends on one.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "A cadential six-four on a beat as strong as that of its V, as in triple time; a bass that goes on by step to a note foreign "
        + "to the chords; a diminished six-four over the bass of the seventh chord that it grows into.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 9; Aldwell and Schachter, ch. on six-four chords (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (chord.Numeral is not { Inversion: 2 } numeral || !chord.IsTriad || chord.Moments.Count == 0) continue;
            if (BassOf(progression, chord, last: false) is not { } bass || !bass.Pitch.Tone.IsEnharmonicWith(chord.Tones[2])) continue;
            var next = Resolutions.NextChord(progression, chord);
            var before = Resolutions.ChordBefore(progression, chord);
            if (before is not null && Resolutions.IsPhraseBetween(progression, before, chord)) before = null;
            if (EndsPhrase(progression, chord, next) && !IsArpeggiation(before, chord))
            {
                var ends = new SixFourFacts(numeral, bass.Pitch.Tone, SixFourFault.EndsPhrase);
                yield return At(chord.Moments[0].Onset, ends, chord.Moments[0].Notes.OfType<LineNote>());
                continue;
            }

            if (IsArpeggiation(before, chord) || IsArpeggiation(next, chord) || IsPartOfSeventh(progression, chord, bass, next)) continue;
            var isCadential = IsBeforeDominant(progression, chord, bass, next);
            if (isCadential && (next!.Numeral!.Inversion == 3 || StrengthOf(progression, chord) >= StrengthOf(progression, next))) continue;
            if (IsPassingOrPedal(progression, before, bass, next, isCadential)) continue;
            var fault = isCadential ? SixFourFault.WeakBeat : SixFourFault.NoneOfTheUsual;
            yield return At(chord.Moments[0].Onset, new SixFourFacts(numeral, bass.Pitch.Tone, fault), chord.Moments[0]
                .Notes.OfType<LineNote>());
        }
    }

    private static LineNote? BassOf(VoicedProgression progression, VoicedChord chord, bool last)
    {
        var notes = chord.Moments.Select(m => m.Notes[progression.Bass]).OfType<LineNote>();
        return last ? notes.LastOrDefault() : notes.FirstOrDefault();
    }

    private static bool IsArpeggiation(VoicedChord? neighbour, VoicedChord chord) =>
        neighbour is { Numeral: not null } && neighbour.Tones[0].IsEnharmonicWith(chord.Tones[0]) && neighbour.IsSameHarmonyAs(chord);

    // viio over its fifth and the V42 that keeps its bass are one chord.
    private static bool IsPartOfSeventh(VoicedProgression progression, VoicedChord chord, LineNote bass, VoicedChord? next) =>
        next is { Numeral: not null, Seventh: { } seventh } && seventh == bass.Pitch.Tone && next.IsSameHarmonyAs(chord)
        && BassOf(progression, next, last: false)?.Pitch.Tone == bass.Pitch.Tone;

    // A six-four that a phrase comes to rest on: the last chord, or the last before a fermata, with its fifth in the bass to the end.
    private static bool EndsPhrase(VoicedProgression progression, VoicedChord chord, VoicedChord? next) =>
        (next is null || Resolutions.IsPhraseBetween(progression, chord, next))
        && BassOf(progression, chord, last: true)?.Pitch.Tone.IsEnharmonicWith(chord.Tones[2]) == true
        && chord.Reading.Duration >= progression.Score.MeasureAt(chord.Reading.Onset).Time.PulseLength;

    // Over a bass that stays for V; where it goes on by step the six-four passes.
    private static bool IsBeforeDominant(VoicedProgression progression, VoicedChord chord, LineNote bass, VoicedChord? next) =>
        next is { Numeral: { Kind: NumeralKind.Plain } after } && chord.Numeral is { Degree: 1, Alteration: 0 }
        && after.Degree == 5 && after.Inversion is 0 or 3 && next.Tones[0].IsEnharmonicWith(chord.Tones[2])
        && (after.Inversion == 3 || BassOf(progression, next, last: false)?.Pitch.Tone == bass.Pitch.Tone);

    private static bool IsPassingOrPedal(VoicedProgression progression, VoicedChord? before, LineNote bass, VoicedChord? next,
        bool isCadential)
    {
        var into = before is null ? null : progression.Before(bass) is { } left && progression.IsConnected(left, bass) ? left : null;
        // A bass that is held into the chord or over its end is a pedal point.
        if (before is not null && bass.Onset < before.Reading.End) return true;
        if (next is not null && !isCadential && bass.End > next.Reading.Onset) return true;
        var outOf = !isCadential && progression.After(bass) is { } after && progression.IsConnected(bass, after)
            && Math.Abs(after.Pitch.Staff - bass.Pitch.Staff) == 1
            ? after
            : Resolutions.Next(progression, bass);
        if (into?.Pitch.Tone == bass.Pitch.Tone) return outOf is null || Math.Abs(outOf.Pitch.Staff - bass.Pitch.Staff) <= 1
            || next is null;
        if (into is null && before is null) return false;
        // A chromatic semitone is a step here, and has the same letter.
        if (into is null || outOf is null || Math.Abs(into.Pitch.Staff - bass.Pitch.Staff) > 1) return false;
        // Reached by step and left by step, or resolved over its own bass; before V that would be a cadential one out of its beat.
        return Math.Abs(outOf.Pitch.Staff - bass.Pitch.Staff) is var steps && (steps == 1 || (steps == 0 && !isCadential));
    }

    private static double StrengthOf(VoicedProgression progression, VoicedChord chord) =>
        SonorityFinder.Weight(progression.Score.MeasureAt(chord.Moments[0].Onset), chord.Moments[0].Onset);
}
