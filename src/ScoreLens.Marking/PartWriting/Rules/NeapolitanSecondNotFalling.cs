using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>The flat second of a Neapolitan that does not fall.</summary>
internal sealed class NeapolitanSecondNotFalling : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.NeapolitanSecondNotFalling;

    /// <inheritdoc/>
    public override string Sentence => "The flat second degree of the Neapolitan falls, to the leading tone or by way of the tonic.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "It may be held while the next chord has it, or lie in the bass, which then has a line of its own; the end of a phrase frees "
        + "it.";

    /// <inheritdoc/>
    public override string Source =>
        "Kostka and Payne, Tonal Harmony, ch. 22; Aldwell and Schachter, ch. on the Phrygian II (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (chord.Numeral is not { Kind: NumeralKind.Plain, Degree: 2, Alteration: -1 } numeral || chord.Moments.Count == 0) continue;
            if (numeral.Quality is not (ChordQuality.Major or ChordQuality.MajorSeventh)) continue;
            if (Resolutions.NextChord(progression, chord) is not { Numeral: not null } next || next.Has(chord.Tones[0])) continue;
            if (Resolutions.IsPhraseBetween(progression, chord, next)) continue;
            for (var voice = 0; voice < progression.Voices.Count; voice++)
            {
                // Over its root the chord's bass has to leap to V or IV, or climbs between the inversions.
                if (voice == progression.Bass) continue;
                if (Resolutions.LastChordNote(progression, chord, voice) is not { } note || note.Pitch.Tone != chord.Tones[0]) continue;
                if (Resolutions.Next(progression, note) is not { } goal) continue;
                var motion = Interval.Between(note.Pitch, goal.Pitch);
                if (motion.Direction < 0 && motion.Steps is -1 or -2) continue;
                yield return At(goal.Onset, new TendencyFacts(note, goal, chord.LeadingTone, chord.Context.Tonic), note, goal);
            }
        }
    }
}
