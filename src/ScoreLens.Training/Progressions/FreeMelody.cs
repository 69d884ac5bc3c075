using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Invents a melody over chords: chord notes on most strong places, and between them passing and neighbouring notes,
/// appoggiaturas, suspensions, chromatic neighbours, runs and broken chords.
/// </summary>
/// <param name="Low">Lowest MIDI pitch.</param>
/// <param name="High">Highest MIDI pitch.</param>
/// <param name="Speed">0 calm to 3 busy.</param>
/// <param name="Dissonance">Share of strong places that have an appoggiatura or a suspension, 0..1.</param>
internal sealed record FreeMelody(int Low, int High, int Speed, double Dissonance)
{
    // Note values of a beat in twelfths of it, from calm to busy.
    private static readonly int[][][] Cells =
    [
        [[12], [12], [12], [6, 6], [9, 3]],
        [[12], [6, 6], [6, 6], [9, 3], [4, 4, 4], [6, 3, 3]],
        [[6, 6], [3, 3, 3, 3], [6, 3, 3], [4, 4, 4], [9, 3], [3, 3, 6]],
        [[3, 3, 3, 3], [3, 3, 3, 3], [3, 3, 3, 3], [4, 4, 4], [2, 2, 2, 2, 2, 2], [6, 3, 3]],
    ];

    public sealed record Tune(Pitch Pitch, Fraction Onset, Fraction Duration);

    /// <summary>The melody over chords that follow each other, each with its onset, its duration and its beat.</summary>
    public List<Tune> Over(IReadOnlyList<(ProgressionChord Chord, Fraction Onset, Fraction Duration, Fraction Beat)> spans, Random random)
    {
        var tune = new List<Tune>();
        var now = Nearest(spans[0].Chord, (Low + High) / 2);
        var direction = 1;
        Pitch? owed = null;
        foreach (var (chord, start, duration, beat) in spans)
        {
            var end = start + duration;
            for (var at = start; at < end;)
            {
                // Now and then a beat is silent or a note is held for two.
                if (random.Next(14) == 0 && at > start)
                {
                    at += Fraction.Min(beat, end - at);
                    continue;
                }

                var cells = Cells[Speed];
                var cell = cells[random.Next(cells.Length)];
                var run = random.Next(4) == 0;
                if (random.Next(3) == 0) direction = -direction;
                for (var i = 0; i < cell.Length && at < end; i++)
                {
                    var length = Fraction.Min(beat * new Fraction(cell[i], 12), end - at);
                    if (now.Midi > High - 3) direction = -1;
                    if (now.Midi < Low + 3) direction = 1;
                    Pitch next;
                    if (owed is { } resolution)
                    {
                        (next, owed) = (resolution, null);
                    }
                    else if (i == 0)
                    {
                        var goal = Nearest(chord, now.Midi + (direction * random.Next(0, 5)));
                        next = goal;
                        if (random.NextDouble() < Dissonance && length < end - at)
                        {
                            var above = now.Staff == goal.Staff + 1 || random.Next(3) > 0;
                            next = now.Staff == goal.Staff + 1 && now.Midi > goal.Midi ? now : above ? Step(goal, 1, chord)
                                : Leading(goal, chord, random);
                            owed = goal;
                        }
                    }
                    else
                    {
                        next = run ? Step(now, direction, chord) : random.Next(5) switch
                        {
                            0 => Nearest(chord, now.Midi + (direction * random.Next(3, 6))),
                            1 => Leading(now, chord, random),
                            _ => Step(now, direction, chord),
                        };
                        // A dissonance is left by step, or goes back to the chord.
                        if (!run && !chord.Tones.Contains(next.Tone) && random.Next(2) == 0) owed = Nearest(chord, next.Midi + direction);
                    }

                    tune.Add(new Tune(next, at, length));
                    now = next;
                    at += length;
                }
            }
        }

        return tune;
    }

    /// <summary>The note of a chord nearest to a MIDI pitch, inside the compass.</summary>
    private Pitch Nearest(ProgressionChord chord, int midi)
    {
        var goal = Math.Clamp(midi, Low, High);
        Pitch? best = null;
        foreach (var tone in chord.Tones)
        {
            for (var octave = 1; octave < 8; octave++)
            {
                var pitch = new Pitch(tone, octave);
                if (best is null || Math.Abs(pitch.Midi - goal) < Math.Abs(best.Value.Midi - goal)) best = pitch;
            }
        }

        return best!.Value;
    }

    private static Pitch Leading(Pitch pitch, ProgressionChord chord, Random random) =>
        random.Next(3) == 0 ? Decoration.SemitoneBelow(pitch) : Decoration.Step(pitch, random.Next(2) == 0 ? -1 : 1, chord);

    private static Pitch Step(Pitch pitch, int by, ProgressionChord chord) => Decoration.Step(pitch, by, chord);
}
