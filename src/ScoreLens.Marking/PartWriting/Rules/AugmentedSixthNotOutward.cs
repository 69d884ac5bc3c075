using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>An augmented sixth whose two notes do not open to the octave.</summary>
internal sealed class AugmentedSixthNotOutward : PartWritingRule
{
    // On the line of fifths.
    private const int AugmentedSixth = 10;

    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.AugmentedSixthNotOutward;

    /// <inheritdoc/>
    public override string Sentence =>
        "The augmented sixth opens outward: the flat sixth falls and the raised fourth rises, both to the fifth degree.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "The raised fourth may fall by a chromatic semitone to the seventh of V7; either note may be held while the next chord has "
        + "it, or pass to another voice.";

    /// <inheritdoc/>
    public override string Source =>
        "Aldwell and Schachter, Harmony and Voice Leading, ch. on augmented sixths; Kostka and Payne, ch. 23 (from memory).";

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        foreach (var chord in progression.Chords)
        {
            if (FlatSixth(progression, chord) is not { } flat) continue;
            if (Resolutions.NextChord(progression, chord) is not { Numeral: not null } next
                || FlatSixth(progression, next) == flat) continue;
            if (Resolutions.IsPhraseBetween(progression, chord, next)) continue;
            foreach (var (tone, steps) in new[] { (flat, -1), (flat + AugmentedSixth, 1) })
            {
                if (next.Has(tone)) continue;
                for (var voice = 0; voice < progression.Voices.Count; voice++)
                {
                    if ((Resolutions.LastChordNote(progression, chord, voice) ?? chord.Moments[^1].Notes[voice]) is not { } note
                        || note.Pitch.Tone != tone) continue;
                    if (Resolutions.Next(progression, note) is not { } goal || goal == note) continue;
                    var motion = Interval.Between(note.Pitch, goal.Pitch);
                    if (motion == new Interval(steps, steps) || (steps == 1 && motion is { Steps: 0, Semitones: -1 })) continue;
                    yield return At(goal.Onset, new TendencyFacts(note, goal, flat + 5), note, goal);
                }
            }
        }
    }

    // The chord is one by its numeral, or by its notes: a reading that hears something else in it does not change how they are spelled.
    private static Tone? FlatSixth(VoicedProgression progression, VoicedChord chord)
    {
        if (chord.Moments.Count == 0 || chord.Numeral is null) return null;
        if (chord.Numeral.Kind == NumeralKind.AugmentedSixth) return chord.Tones[0];
        return chord.Moments[^1].Notes[progression.Bass]?.Pitch.Tone is { } bass
            && chord.Moments[^1].Notes.Any(n => n?.Pitch.Tone == bass + AugmentedSixth)
            ? bass
            : null;
    }
}
