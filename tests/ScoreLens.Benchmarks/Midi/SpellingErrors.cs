using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Output.Midi;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>
/// The notes whose names are guessed wrong, by kind: how many in a passage that lies a diminished second away as a whole, and of the others
/// how each comes from the note before in its part and goes to the next.
/// </summary>
internal static class SpellingErrors
{
    /// <summary>Prints the kinds, the most frequent first, each with examples.</summary>
    public static void Report(IReadOnlyList<CorpusWork> works, int examples)
    {
        foreach (var repertoire in works.GroupBy(w => w.Group()))
        {
            var found = repertoire.AsParallel().AsOrdered().SelectMany(Of).ToList();
            Console.WriteLine($"{repertoire.Key}: {found.Count} notes");
            foreach (var kind in found.GroupBy(e => e.Kind).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal))
            {
                Console.WriteLine($"  {kind.Count(),5}  {kind.Key}");
                var all = kind.ToList();
                for (var i = 0; i < Math.Min(examples, all.Count); i++)
                    Console.WriteLine($"           {all[i * all.Count / Math.Min(examples, all.Count)].Text}");
            }
        }
    }

    private static List<(string Kind, string Text)> Of(CorpusWork work)
    {
        var score = ScoreFile.Load(work.ScorePath).Score;
        var midi = MidiReader.Read(MidiWriter.Write(score));
        var parts = MidiLosses.PartsOf(midi);
        var read = midi.Notes.GroupBy(n => (parts[n.Part], n.Pitch.Midi, n.Onset)).ToDictionary(g => g.Key, g => g.First().Pitch);
        var pairs = SonorityFinder.JoinTies(score.Notes).DistinctBy(n => (n.Part, n.Pitch.Midi, n.Onset))
            .Where(n => read.ContainsKey((n.Part, n.Pitch.Midi, n.Onset)))
            .Select(n => (Note: n, Read: read[(n.Part, n.Pitch.Midi, n.Onset)])).ToList();
        var isPassage = EnharmonicPassages.Count(pairs.Select(p => (p.Note.Onset, p.Note.Pitch, p.Read)))
            * 2 > pairs.Count(p => p.Read != p.Note.Pitch);
        var errors = new List<(string, string)>();
        foreach (var line in pairs.GroupBy(p => (p.Note.Part, p.Note.Staff, p.Note.Voice)))
        {
            var notes = line.OrderBy(p => p.Note.Onset).ToList();
            for (var i = 0; i < notes.Count; i++)
            {
                var (note, name) = notes[i];
                if (name == note.Pitch) continue;
                var measure = score.MeasureAt(note.Onset);
                var motion = isPassage ? "most wrong notes of the work in such passages" : $"{Motion(i - 1, i)}, then {Motion(i, i + 1)}";
                var place = string.Join(' ', notes.Skip(Math.Max(0, i - 2)).Take(5).Select(n =>
                    n.Note == note ? $"[{n.Note.Pitch.Tone} as {n.Read.Tone}]" : $"{n.Note.Pitch.Tone}"));
                errors.Add((motion, $"{work.Name} m. {measure.Number}, signature {measure.Signature}: {place}"));

                string Motion(int from, int to) => from < 0 || to >= notes.Count ? "no note"
                    : notes[to].Note.Pitch.Midi - notes[from].Note.Pitch.Midi is var step && step == 0 ? "same"
                    : Math.Abs(step) > 2 ? "leap" : step.ToString("+0;-0", CultureInfo.InvariantCulture);
            }
        }

        return errors;
    }
}
