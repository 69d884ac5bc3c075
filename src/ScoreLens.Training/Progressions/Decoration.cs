using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>Puts non-chord notes into a voice: passing and neighbouring notes, suspensions, appoggiaturas, anticipations.</summary>
internal static class Decoration
{
    public sealed record MelodyNote(Pitch Pitch, Fraction Onset, Fraction Duration);

    /// <summary>The voice with non-chord notes, <paramref name="density"/> being the share of chords that get one.</summary>
    public static List<MelodyNote> Melody(List<TextureSpan> spans, int voice, double density, Random random)
    {
        var melody = new List<MelodyNote>();
        for (var i = 0; i < spans.Count; i++)
        {
            var (span, pitch) = (spans[i], spans[i].Pitches[voice]);
            var (onset, duration) = (span.Onset, span.Duration);
            Pitch? next = i + 1 < spans.Count ? spans[i + 1].Pitches[voice] : null;
            if (i > 0 && random.NextDouble() < density * 0.3 && Suspended(melody[^1], pitch) is { } held)
            {
                melody[^1] = melody[^1] with { Duration = melody[^1].Duration + (duration / 2) };
                _ = held;
                (onset, duration) = (onset + (duration / 2), duration / 2);
            }
            else if (random.NextDouble() < density * 0.12)
            {
                melody.Add(new MelodyNote(Step(pitch, 1, span.Chord), onset, duration / 4));
                (onset, duration) = (onset + (duration / 4), duration * new Fraction(3, 4));
            }

            if (next is not { } to || random.NextDouble() > density)
            {
                melody.Add(new MelodyNote(pitch, onset, duration));
                continue;
            }

            var leap = to.Staff - pitch.Staff;
            if (Math.Abs(leap) == 2)
            {
                melody.Add(new MelodyNote(pitch, onset, duration / 2));
                melody.Add(new MelodyNote(Step(pitch, Math.Sign(leap), span.Chord), onset + (duration / 2), duration / 2));
            }
            else if (Math.Abs(leap) == 3)
            {
                var quarter = duration / 4;
                melody.Add(new MelodyNote(pitch, onset, duration / 2));
                var first = Step(pitch, Math.Sign(leap), span.Chord);
                melody.Add(new MelodyNote(first, onset + (duration / 2), quarter));
                melody.Add(new MelodyNote(Step(first, Math.Sign(leap), span.Chord), onset + (quarter * 3), quarter));
            }
            else if (leap == 0 || random.Next(2) == 0)
            {
                // A neighbour, sometimes a semitone below, outside the scale.
                var below = random.Next(2) == 0;
                var neighbour = below && random.Next(3) == 0 ? SemitoneBelow(pitch) : Step(pitch, below ? -1 : 1, span.Chord);
                melody.Add(new MelodyNote(pitch, onset, duration / 2));
                melody.Add(new MelodyNote(neighbour, onset + (duration / 2), duration / 4));
                melody.Add(new MelodyNote(pitch, onset + (duration * new Fraction(3, 4)), duration / 4));
            }
            else if (random.Next(4) == 0)
            {
                melody.Add(new MelodyNote(pitch, onset, duration * new Fraction(3, 4)));
                melody.Add(new MelodyNote(to, onset + (duration * new Fraction(3, 4)), duration / 4));
            }
            else
            {
                melody.Add(new MelodyNote(pitch, onset, duration));
            }
        }

        return melody;
    }

    private static Pitch? Suspended(MelodyNote before, Pitch pitch) =>
        before.Pitch.Staff - pitch.Staff == 1 && before.Pitch.Midi - pitch.Midi is 1 or 2 ? before.Pitch : null;

    // A step on the staff, spelled as the chord has that letter, else as the key has it.
    public static Pitch Step(Pitch pitch, int by, ProgressionChord chord)
    {
        var letter = "CDEFGAB"[((pitch.Tone.Step + by) % 7 + 7) % 7];
        var octave = pitch.Octave + (by > 0 && letter == 'C' ? 1 : by < 0 && letter == 'B' ? -1 : 0);
        var tone = chord.Tones.Cast<Tone?>().FirstOrDefault(t => t!.Value.Letter == letter)
            ?? Enumerable.Range(1, 7).Select(chord.Key.Degree).First(t => t.Letter == letter);
        // No augmented second: the sixth degree is raised beside the raised seventh.
        var found = new Pitch(tone, octave);
        if (Math.Abs(found.Midi - pitch.Midi) == 3) found = new Pitch(tone + (found.Midi < pitch.Midi ? 7 : -7), octave);
        return found;
    }

    public static Pitch SemitoneBelow(Pitch pitch)
    {
        var letter = "CDEFGAB"[(pitch.Tone.Step + 6) % 7];
        var octave = pitch.Octave - (letter == 'B' ? 1 : 0);
        for (var alteration = -1; alteration <= 1; alteration++)
            if (new Pitch(Tone.Of(letter, alteration), octave) is var found && pitch.Midi - found.Midi == 1) return found;
        return new Pitch(pitch.Tone + -7, pitch.Octave);
    }
}
