using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting.Rules;

/// <summary>A doubling that handbooks advise against.</summary>
internal sealed class Doubling : PartWritingRule
{
    /// <inheritdoc/>
    public override RemarkKind Kind => RemarkKind.Doubling;

    /// <inheritdoc/>
    public override string Sentence =>
        "In root position double the root; in a six-four double the bass; never double the notes of an augmented sixth, and no note "
        + "but the root three times.";

    /// <inheritdoc/>
    public override string Exceptions =>
        "The third of VI after V; a third whose voices all reach or leave it by step; a six-four's other note where a voice reaches "
        + "or leaves it by step; chords shorter than a beat.";

    /// <inheritdoc/>
    public override string Source => "Kostka and Payne, Tonal Harmony, ch. 5, 9 and 23; Piston, Harmony (from memory).";

    /// <inheritdoc/>
    public override double Weight => 0.25;

    internal override IEnumerable<Fault> Find(VoicedProgression progression)
    {
        if (progression.Voices.Count != 4) yield break;
        foreach (var chord in progression.Chords)
        {
            if (chord.Numeral is not { } numeral || chord.Moments.Count == 0) continue;
            if (chord.Reading.Duration < progression.Score.MeasureAt(chord.Reading.Onset).Time.BeatLength) continue;
            var moment = chord.Moments[0];
            var notes = moment.Notes.OfType<LineNote>().ToArray();
            if (notes.Length < 4 || notes.Any(n => !progression.IsChordNote(n, moment))) continue;
            if (Wrong(progression, chord, numeral, notes) is not { } facts) continue;
            yield return At(moment.Onset, facts, notes.Where(n => n.Pitch.Tone.IsEnharmonicWith(facts.Tone)));
        }
    }

    private static DoublingFacts? Wrong(VoicedProgression progression, VoicedChord chord, Numeral numeral, LineNote[] notes)
    {
        int Count(Tone tone) => notes.Count(n => n.Pitch.Tone.IsEnharmonicWith(tone));
        var tones = chord.Tones;
        if (numeral.Kind == NumeralKind.AugmentedSixth)
        {
            return Count(tones[0]) > 1 ? new(DoubledMember.FlatSixth, tones[0], tones[1])
                : Count(tones[^1]) > 1 ? new(DoubledMember.RaisedFourth, tones[^1], tones[1])
                : null;
        }

        if (!chord.IsTriad) return null;
        if (Count(tones[2]) > 2 && numeral.Inversion != 2) return new(DoubledMember.FifthThreeTimes, tones[2], tones[0]);
        if (Count(tones[1]) > 2) return new(DoubledMember.ThirdThreeTimes, tones[1], tones[0]);
        if (numeral.Inversion == 2 && Count(tones[2]) < 2 && notes.Length == 4)
        {
            var doubled = Count(tones[0]) > 1 ? 0 : 1;
            if (notes.Where(n => n.Pitch.Tone.IsEnharmonicWith(tones[doubled])).Any(n => IsByStep(progression, n))) return null;
            return new(doubled == 0 ? DoubledMember.RootOfSixFour : DoubledMember.ThirdOfSixFour, tones[doubled], tones[2]);
        }

        if (numeral.Inversion != 0 || numeral.Quality != ChordQuality.Major || Count(tones[1]) < 2) return null;
        if (numeral.Degree == 6) return null;
        var thirds = notes.Where(n => n.Pitch.Tone.IsEnharmonicWith(tones[1])).ToArray();
        if (chord.IsDominant && tones[1] == chord.LeadingTone) return null;
        return thirds.All(n => IsByStep(progression, n)) ? null : new(DoubledMember.ThirdOfMajorTriad, tones[1], tones[0]);
    }

    private static bool IsByStep(VoicedProgression progression, LineNote note) =>
        (progression.Before(note) is { } before && Interval.Between(before.Pitch, note.Pitch).IsStep)
        || (progression.After(note) is { } after && Interval.Between(note.Pitch, after.Pitch).IsStep);
}
