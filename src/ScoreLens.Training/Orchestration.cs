using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// The same music in other clothes, which an expert would read alike: its voices doubled by an orchestra's parts, its chords broken into
/// figures, a drone under or over it. The labels stay.
/// </summary>
internal static class Orchestration
{
    private const int LowestMidi = 24;
    private const int HighestMidi = 100;

    /// <summary>
    /// Up to twenty parts more, each doubling a voice in its own or another octave, some of them in every other passage of eight measures.
    /// The lowest voice stays the lowest.
    /// </summary>
    public static Score Doubled(Score score, Random random)
    {
        var voices = score.Notes.Where(n => n.IsHarmonic).GroupBy(n => (n.Part, n.Staff, n.Voice))
            .OrderBy(g => g.Average(n => n.Pitch.Midi)).Select(g => g.ToArray()).ToArray();
        if (voices.Length == 0) return score;
        var (parts, notes) = (score.Parts.ToList(), score.Notes.ToList());
        for (var more = random.Next(3, 21); more > 0; more--)
        {
            var number = random.Next(voices.Length);
            int[] octaves = number == 0 ? [-1, -1, 0] : number == voices.Length - 1 ? [0, 1, 1, 2] : [0, 0, 1];
            var octave = octaves[random.Next(octaves.Length)];
            var resting = random.Next(3) == 0 ? random.Next(2) : -1;
            var part = parts.Count;
            parts.Add(new Part(part, $"D{part}", $"Doubling {part}", 1));
            foreach (var note in voices[number])
            {
                var pitch = new Pitch(note.Pitch.Tone, note.Pitch.Octave + octave);
                if (pitch.Midi is < LowestMidi or > HighestMidi || score.MeasureAt(note.Onset).Index / 8 % 2 == resting) continue;
                notes.Add(note with { Pitch = pitch, Part = part, Staff = 1, Voice = "1" });
            }
        }

        return score with { Parts = parts, Notes = [.. notes.OrderBy(n => n.Onset)] };
    }

    /// <summary>
    /// Chords of two notes and more that are struck together and last long enough, broken into a figure that comes again until the chord
    /// ends.
    /// </summary>
    public static Score Figured(Score score, Random random)
    {
        Fraction[] steps = [new(1, 4), new(1, 2), new(1, 3), new(1, 8)];
        var step = steps[random.Next(steps.Length)];
        var (down, span) = (random.Next(2) == 0, random.Next(3, 9));
        var notes = new List<Note>();
        foreach (var chord in score.Notes.GroupBy(n => (n.Onset, n.Duration, n.Part)))
        {
            var tones = chord.Where(n => n.IsHarmonic).OrderBy(n => n.Pitch).ToArray();
            var plain = tones.Length < 2 || chord.Key.Duration < step * tones.Length || tones.Any(n => n.IsTiedFrom || n.IsTiedTo)
                || score.MeasureAt(chord.Key.Onset).Index / span % 4 == 3;
            if (plain)
            {
                notes.AddRange(chord);
                continue;
            }

            notes.AddRange(chord.Where(n => !n.IsHarmonic));
            // The lowest tone comes first, so that the figure has its bass.
            if (down) Array.Reverse(tones, 1, tones.Length - 1);
            var end = chord.Key.Onset + chord.Key.Duration;
            for (var (at, i) = (chord.Key.Onset, 0); at < end; at += step, i++)
            {
                var tone = tones[i % tones.Length];
                notes.Add(tone with { Onset = at, Duration = Fraction.Min(step, end - at), Marks = NoteMarks.None });
            }
        }

        return score with { Notes = [.. notes.OrderBy(n => n.Onset)] };
    }

    /// <summary>
    /// A drone on the tonic or the dominant of the key that most of the music stands in, under it or over it: held from end to end, or
    /// struck anew in every measure or every fourth.
    /// </summary>
    public static Score WithDrone(Score score, IReadOnlyList<ReferenceLabel> labels, Random random)
    {
        if (labels.Count == 0 || score.Measures.Count == 0 || score.Notes.Count == 0) return score;
        var home = labels.GroupBy(l => l.Key).MaxBy(g => g.Sum(l => l.Duration.ToDouble()))!.Key;
        Tone[] tones = random.Next(4) switch { 0 => [home.Tonic, home.Tonic + 1], 1 => [home.Tonic + 1], _ => [home.Tonic] };
        var under = random.Next(4) > 0;
        var anew = random.Next(3) switch { 0 => 1, 1 => 4, _ => int.MaxValue };
        var harmonic = score.Notes.Where(n => n.IsHarmonic).ToArray();
        if (harmonic.Length == 0) return score;
        var edge = under ? harmonic.Min(n => n.Pitch.Midi) - 1 : harmonic.Max(n => n.Pitch.Midi) + 12;
        var part = score.Parts.Count;
        var drone = new List<Note>();
        foreach (var tone in tones)
        {
            var pitch = Pitch.Between(tone, Math.Max(12, edge - 12), Math.Max(24, edge)).First();
            foreach (var measure in score.Measures)
            {
                var marks = (measure.Index % anew == 0 ? NoteMarks.None : NoteMarks.TieStop)
                    | ((measure.Index + 1) % anew == 0 || measure.Index + 1 == score.Measures.Count ? NoteMarks.None : NoteMarks.TieStart);
                if (measure.Length.Sign == 0) continue;
                drone.Add(new Note(pitch, measure.Start, measure.Length, part, 1, tone == tones[0] ? "1" : "2", marks));
            }
        }

        return score with
        {
            Parts = [.. score.Parts, new Part(part, $"D{part}", "Drone", 1)],
            Notes = [.. score.Notes.Concat(drone).OrderBy(n => n.Onset)],
        };
    }
}
