using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>
/// Writes new music over a work's analysis: the same keys, numerals, times, measures and signatures, other notes. Every few
/// measures the texture changes: held or repeated chords, broken ones, after-beats, a bass alone, a melody above.
/// </summary>
internal static class Retexture
{
    private enum Layer
    {
        Held,
        Repeated,
        AfterBeat,
        Alberti,
        BrokenUp,
        BrokenDown,
        Scattered,
        BassAlone,
        WalkingBass,
        Staccato,
        Murky,
    }

    /// <summary>Other music for a score and its labels.</summary>
    public static Score Of(Score score, IReadOnlyList<ReferenceLabel> labels, Random random)
    {
        var spans = Spans(score, labels);
        var notes = new List<Note>();
        for (var first = 0; first < spans.Count;)
        {
            var until = score.MeasureAt(spans[first].Onset).Index + random.Next(2, 9);
            var last = first + 1;
            while (last < spans.Count && score.MeasureAt(spans[last].Onset).Index < until && spans[last].Onset == spans[last - 1].Onset
                + spans[last - 1].Duration) last++;
            Section(spans.GetRange(first, last - first), score, notes, random);
            first = last;
        }

        return score with
        {
            Parts = [new Part(0, "P1", "Piano", 2)],
            Notes = [.. ProgressionWriter.SplitAtBarlines(notes, at => score.MeasureAt(at).End).OrderBy(n => n.Onset).ThenBy(n => n.Staff)
                .ThenByDescending(n => n.Pitch)],
            Rests = [],
            ChordSymbols = [],
            Texts = [],
        };
    }

    private static List<(ProgressionChord Chord, Fraction Onset, Fraction Duration)> Spans(Score score,
        IReadOnlyList<ReferenceLabel> labels)
    {
        var spans = new List<(ProgressionChord Chord, Fraction Onset, Fraction Duration)>();
        for (var i = 0; i < labels.Count; i++)
        {
            var label = labels[i];
            if (label.Numeral is not { } numeral) continue;
            var end = i + 1 < labels.Count ? labels[i + 1].Onset : Fraction.Min(score.End, label.Onset + label.Duration);
            if (end <= label.Onset) continue;
            var chord = ProgressionChord.Of(label.Key, numeral);
            if (spans.Count > 0 && spans[^1] is var before && before.Chord.Key == chord.Key && before.Chord.Numeral == chord.Numeral
                && before.Onset + before.Duration == label.Onset)
                spans[^1] = before with { Duration = end - before.Onset };
            else
                spans.Add((chord, label.Onset, end - label.Onset));
        }

        return spans;
    }

    private static void Section(List<(ProgressionChord Chord, Fraction Onset, Fraction Duration)> spans, Score score, List<Note> notes,
        Random random)
    {
        var layers = Enum.GetValues<Layer>();
        var layer = layers[random.Next(layers.Length)];
        var voices = random.Next(3, 6);
        var grips = CloseVoicing.Set([.. spans.Select(s => s.Chord)], voices, random);
        Fraction[] steps = [new(1, 2), new(1, 2), new(1, 4), new(1, 4), new(1, 3), new(1)];
        var step = steps[random.Next(steps.Length)];
        var octave = random.Next(3) == 0 ? 1 : 0;
        var sung = layer == Layer.BassAlone || random.Next(4) > 0;
        for (var i = 0; i < spans.Count; i++)
        {
            var beat = score.MeasureAt(spans[i].Onset).Time.PulseLength;
            Pitch[] grip = [.. grips[i].Select((p, v) => v > 0 && octave > 0 && sung ? new Pitch(p.Tone, p.Octave - 1) : p)];
            // The chord is complete without the melody, except that its top voice may be the melody's.
            Accompany(layer, spans[i].Chord, spans[i].Onset, spans[i].Duration, beat, sung && grip.Length > 3 ? grip[..^1] : grip, step,
                notes, random);
        }

        if (!sung) return;
        var low = 62 + random.Next(10);
        var melody = new FreeMelody(low, low + 19, random.Next(4), random.NextDouble() * .3)
            .Over([.. spans.Select(s => (s.Chord, s.Onset, s.Duration, score.MeasureAt(s.Onset).Time.PulseLength))], random);
        var thirds = random.Next(8) == 0;
        foreach (var tune in melody)
        {
            notes.Add(new Note(tune.Pitch, tune.Onset, tune.Duration, 0, 1, "1", NoteMarks.None));
            if (!thirds) continue;
            var span = spans.FindLast(s => s.Onset <= tune.Onset);
            notes.Add(new Note(Decoration.Step(Decoration.Step(tune.Pitch, -1, span.Chord), -1, span.Chord), tune.Onset, tune.Duration, 0,
                1, "1", NoteMarks.None));
        }
    }

    private static void Accompany(
        Layer layer, ProgressionChord chord, Fraction onset, Fraction duration, Fraction beat, Pitch[] grip, Fraction step,
            List<Note> notes, Random random)
    {
        var end = onset + duration;
        var upper = grip[1..];
        // A pattern that does not fit into the chord's time goes faster, or the chord is held.
        while (step * grip.Length > duration && step > new Fraction(1, 4)) step /= 2;
        if (step * grip.Length > duration && layer is Layer.Alberti or Layer.BrokenUp or Layer.BrokenDown or Layer.Scattered) layer =
            Layer.Held;
        switch (layer)
        {
            case Layer.Held:
                foreach (var pitch in grip) Add(pitch, onset, end);
                break;
            case Layer.Repeated:
                Add(grip[0], onset, end);
                for (var at = onset; at < end; at += step)
                    foreach (var pitch in upper) Add(pitch, at, Fraction.Min(end, at + step));
                break;
            case Layer.AfterBeat when duration > beat:
                for (var at = onset; at < end; at += beat)
                    foreach (var pitch in at == onset ? grip[..1] : upper) Add(pitch, at, Fraction.Min(end, at + beat));
                break;
            case Layer.Staccato:
                foreach (var pitch in grip) Add(pitch, onset, onset + Fraction.Min(duration, beat / 2));
                break;
            case Layer.BassAlone:
                Add(grip[0], onset, end);
                break;
            case Layer.WalkingBass:
                foreach (var pitch in upper) Add(pitch, onset, end);
                Add(grip[0], onset, Fraction.Min(end, onset + beat));
                for (var at = onset + beat; at < end; at += beat)
                    Add(Below(chord.Tones[random.Next(chord.Tones.Count)], upper[0]), at, Fraction.Min(end, at + beat));
                break;
            case Layer.Murky:
                foreach (var pitch in upper) Add(pitch, onset, end);
                for (var (at, i) = (onset, 0); at < end; at += step, i++)
                    Add(i % 2 == 0 ? new Pitch(grip[0].Tone, grip[0].Octave - 1) : grip[0], at, Fraction.Min(end, at + step));
                break;
            default:
                var order = Order(layer, grip.Length, random);
                for (var (at, i) = (onset, 0); at < end; at += step, i++)
                {
                    var pitch = grip[order[i % order.Length]];
                    Add(pitch, at, Fraction.Min(end, at + step));
                }

                break;
        }

        void Add(Pitch pitch, Fraction from, Fraction to)
        {
            if (to > from) notes.Add(new Note(pitch, from, to - from, 0, pitch == grip[0] ? 2 : 1, pitch == grip[0] ? "5" : "2",
                NoteMarks.None));
        }
    }

    private static int[] Order(Layer layer, int voices, Random random) => layer switch
    {
        Layer.Alberti => voices switch { 2 => [0, 1], 3 => [0, 2, 1, 2], _ => [0, 3, 1, 3, 2, 3] },
        Layer.BrokenDown => [0, .. Enumerable.Range(1, voices - 1).Reverse()],
        Layer.Scattered => [0, .. Enumerable.Range(1, voices - 1).OrderBy(_ => random.Next())],
        _ => random.Next(2) == 0 ? [.. Enumerable.Range(0, voices)]
            : [.. Enumerable.Range(0, voices), .. Enumerable.Range(1, Math.Max(0, voices - 2)).Reverse()],
    };

    private static Pitch Below(Tone tone, Pitch top)
    {
        for (var octave = 3; octave > 1; octave--)
            if (new Pitch(tone, octave) is var pitch && pitch < top) return pitch;
        return new Pitch(tone, 2);
    }
}
