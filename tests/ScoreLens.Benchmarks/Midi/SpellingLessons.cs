using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Notation.Midi.Spelling;
using ScoreLens.Output.Midi;
using ScoreLens.Sonorities;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>
/// Learns the tables of spelling from scores whose spelling is known, each written as MIDI and read back: the tables of the key's centre by
/// counting along the most probable way, over and over; the weights by gradient steps on how likely the written name is among all, with
/// the other notes named first as written, then as the tables so far name them. The same every time that it is run.
/// </summary>
internal sealed class SpellingLessons
{
    private const int CountingRounds = 4, Epochs = 4, AsWritten = 1, Fast = 2;
    private const double FastRate = 0.05, SlowRate = 0.02, Decay = 1e-6;

    private readonly List<Lesson> _lessons;

    private SpellingLessons(List<Lesson> lessons) => _lessons = lessons;

    /// <summary>The tables learned from those works of a list that are to be learned from.</summary>
    public static SpellingTables Learn(IEnumerable<CorpusWork> works)
    {
        var lessons = new SpellingLessons([.. works.Where(w => w.Split == Split.Train).Select(Lesson.Of).Where(l => l.Notes.Length > 0)]);
        return lessons.Weigh(lessons.Count());
    }

    private SpellingTables Count()
    {
        var profile = new double[(2 * SpellingTables.TonesReach) + 1];
        foreach (var lesson in _lessons)
        {
            for (var i = 0; i < lesson.Notes.Length; i++)
            {
                if (lesson.Names[i] is not { } name) continue;
                var around = lesson.Names[Math.Max(0, i - 20)..Math.Min(lesson.Names.Length, i + 21)].OfType<int>();
                Add(profile, name - (int)Math.Round(around.Average() - 2));
            }
        }

        var moves = Enumerable.Range(-SpellingTables.CentresReach, (2 * SpellingTables.CentresReach) + 1).ToArray();
        var tables = new SpellingTables(
            Logarithms(profile, 0.5),
            Logarithms([.. moves.Select(d => d == 0 ? 1000 : 10.0 / (d * d))], 0.01),
            Logarithms([.. moves.Select(d => Math.Exp(-Math.Abs(d) / 2.0))], 0.001),
            [.. SpellingTables.Relations.Select(_ => new double[(2 * SpellingTables.IntervalsReach) + 1])]);
        for (var round = 0; round < CountingRounds; round++) tables = Recount(tables);
        return tables;
    }

    private SpellingTables Recount(SpellingTables tables)
    {
        double[] profile = new double[tables.Profile.Length], moves = new double[tables.Moves.Length];
        var signatures = new double[tables.Signatures.Length];
        foreach (var lesson in _lessons)
        {
            var centres = KeyCentres.Of(lesson.Notes, lesson.Names, tables);
            for (var i = 0; i < centres.Length; i++)
            {
                if (i > 0 && lesson.Notes[i].Onset != lesson.Notes[i - 1].Onset) Add(moves, centres[i] - centres[i - 1]);
                if (lesson.Names[i] is not { } name) continue;
                Add(profile, name - centres[i]);
                Add(signatures, centres[i] - (lesson.Notes[i].Signature ?? 0));
            }
        }

        return tables with
        {
            Profile = Logarithms(profile, 0.5),
            Moves = Logarithms(moves, 0.2),
            Signatures = Logarithms(signatures, 1),
        };
    }

    // Adaptive gradients (Duchi, Hazan and Singer, JMLR 12, 2011); what is kept is the mean of all weights of the slow epochs.
    private SpellingTables Weigh(SpellingTables tables)
    {
        var random = new Random(1);
        var width = tables.Weights[0].Length;
        var squares = new double[tables.Weights.Length * width];
        var sums = new double[squares.Length];
        var taken = 0;
        foreach (var lesson in _lessons) lesson.Context = new SpellingContext(lesson.Notes, KeyCentres.Of(lesson.Notes, null, tables));
        for (var epoch = 0; epoch < Epochs; epoch++)
        {
            foreach (var lesson in _lessons.OrderBy(_ => random.Next()).ToList())
            {
                var guessed = PitchSpeller.Names(lesson.Context!, lesson.Notes, tables);
                var names = epoch < AsWritten ? [.. lesson.Names.Select((n, i) => n ?? guessed[i])] : guessed;
                if (epoch >= Fast)
                {
                    taken++;
                    for (var i = 0; i < sums.Length; i++) sums[i] += tables.Weights[i / width][i % width];
                }

                Step(lesson, names, tables, squares, epoch < Fast ? FastRate : SlowRate);
            }
        }

        return tables with
        {
            Weights = [.. tables.Weights.Select((row, r) => row.Select((_, i) => sums[(r * width) + i] / taken).ToArray())],
        };
    }

    private static void Step(Lesson lesson, int[] names, SpellingTables tables, double[] squares, double rate)
    {
        var witnesses = new List<SpellingWitness>();
        for (var note = 0; note < names.Length; note++)
        {
            int[] candidates = [.. PitchSpeller.Candidates(lesson.Notes[note], lesson.Context!.Centres[note])];
            if (lesson.Names[note] is not { } written || candidates.Length < 2 || !candidates.Contains(written)) continue;
            lesson.Context.Gather(note, names, witnesses);
            double[] scores = [.. candidates.Select(f => PitchSpeller.Score(witnesses, f, tables))];
            var shares = scores.Select(s => Math.Exp(s - scores.Max())).ToArray();
            var all = shares.Sum();
            for (var i = 0; i < candidates.Length; i++)
            {
                var gradient = (candidates[i] == written ? 1 : 0) - (shares[i] / all);
                if (Math.Abs(gradient) < 1e-4) continue;
                foreach (var witness in witnesses) Move(witness, candidates[i], gradient);
            }
        }

        void Move(SpellingWitness witness, int name, double gradient)
        {
            var row = tables.Weights[(int)witness.Relation];
            var place = Math.Clamp(name - witness.Fifths, -SpellingTables.IntervalsReach, SpellingTables.IntervalsReach)
                + SpellingTables.IntervalsReach;
            var slope = (gradient * witness.Value) - (Decay * row[place]);
            ref var square = ref squares[((int)witness.Relation * row.Length) + place];
            square += slope * slope;
            row[place] += rate * slope / (Math.Sqrt(square) + 1e-3);
        }
    }

    private static void Add(double[] row, int distance) => row[Math.Clamp(distance + (row.Length / 2), 0, row.Length - 1)]++;

    // Every value gets a little, so that nothing is impossible.
    private static double[] Logarithms(double[] counts, double little)
    {
        var all = counts.Sum() + (little * counts.Length);
        return [.. counts.Select(c => Math.Log((c + little) / all))];
    }

    private sealed record Lesson(UnspelledNote[] Notes, int?[] Names)
    {
        public SpellingContext? Context { get; set; }

        public static Lesson Of(CorpusWork work)
        {
            var score = ScoreFile.Load(work.ScorePath).Score;
            var midi = MidiReader.Read(MidiWriter.Write(score));
            var parts = MidiLosses.PartsOf(midi);
            var written = SonorityFinder.JoinTies(score.Notes).ToLookup(n => (n.Onset, n.Pitch.Midi, n.Part));
            return new Lesson(
                [
                    .. midi.Notes.Select(n => new UnspelledNote(
                        n.Onset.ToDouble(), n.End.ToDouble(), n.Part, n.Pitch.Midi, midi.MeasureAt(n.Onset).Signature)),
                ],
                [
                    .. midi.Notes.Select(n => written[(n.Onset, n.Pitch.Midi, parts[n.Part])].FirstOrDefault() is { } found
                        ? found.Pitch.Tone.Fifths : (int?)null),
                ]);
        }
    }
}
