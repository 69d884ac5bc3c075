using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Experts;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Training;

/// <summary>
/// Learns what experts have at a place from its neighbours, melody and metre: a conditional logit over the chords of the vocabulary, by
/// stochastic gradient steps that shrink with each feature's own past (Duchi, Hazan, Singer, JMLR 12, 2011; from memory). Only features
/// that the right chords have a few times are kept, so that the table stays small.
/// </summary>
internal static class ChoiceLearning
{
    private const int LeastChords = 4, LeastFeature = 3, Epochs = 12, Seed = 18;
    private const double Rate = 0.1, Ridge = 2e-4, LeastWeight = 0.03;

    /// <summary>Learns from the training works of a corpus, writes the table, and prints how it does on the validation works.</summary>
    public static void Run(string corpus, string output)
    {
        var places = CorpusWork.All(corpus).Where(w => w.Split != Split.Measure).AsParallel().AsOrdered()
            .SelectMany(w => PlacesOf(w).Select(p => (w.Split, Place: p))).ToArray();
        var train = places.Where(p => p.Split == Split.Train).Select(p => p.Place).ToArray();
        var vocabulary = ((Mode[])[Mode.Major, Mode.Minor]).ToDictionary(m => m, m => VocabularyOf(train.Where(p => p.Evidence.Mode == m)));
        var choices = Learn(train, vocabulary);
        using (var writer = new StreamWriter(output)) choices.Write(writer);
        var kept = places.Where(p => p.Split == Split.Validation).Select(p => p.Place).ToArray();
        Console.WriteLine($"{train.Length} places learned from, {train.Count(p => p.IsOutside)} of them outside the key");
        Print("all", kept, choices, coloured: false);
        Print("outside the key", [.. kept.Where(p => p.IsOutside)], choices, coloured: false);
        Print("outside the key, among such chords", [.. kept.Where(p => p.IsOutside)], choices, coloured: true);
    }

    // Chords one after the other that differ in bass or figures alone are one place.
    private static IEnumerable<LearningPlace> PlacesOf(CorpusWork work)
    {
        var score = ScoreFile.Load(work.ScorePath).Score;
        var sonorities = SonorityFinder.Find(score);
        var melody = new Melody(score, sonorities, null);
        var weights = sonorities.ToDictionary(s => s.Onset, s => s.MetricalWeight);
        var runs = new List<(ReferenceLabel First, ReferenceLabel Last)>();
        foreach (var label in work.Labels().Where(l => l.Numeral is not null))
        {
            if (runs.Count > 0 && runs[^1].Last is var last && last.Key == label.Key
                && ChordClass.Of(label.Key, label.Key, label.Numeral!) == ChordClass.Of(last.Key, last.Key, last.Numeral!))
                runs[^1] = (runs[^1].First, label);
            else runs.Add((label, label));
        }

        for (var i = 0; i < runs.Count; i++)
        {
            var (first, last) = runs[i];
            var end = last.Onset + last.Duration;
            var evidence = PlaceEvidence.Of(first.Key, i > 0 ? (runs[i - 1].Last.Key, runs[i - 1].Last.Numeral!) : null,
                i + 1 < runs.Count ? (runs[i + 1].First.Key, runs[i + 1].First.Numeral!) : null,
                melody.Over(first.Onset, end)?.In(first.Onset, end) ?? [], first.Onset, end, weights.GetValueOrDefault(first.Onset));
            yield return new LearningPlace(evidence, ChordClass.Of(first.Key, first.Key, first.Numeral!), first.Numeral!,
                !Diatonic.Contains(first.Key, first.Numeral!));
        }
    }

    // Each chord by the numeral that experts most often write, without its figures.
    private static Numeral[] VocabularyOf(IEnumerable<LearningPlace> places) =>
        [.. places.GroupBy(p => p.Chord).Where(g => g.Count() >= LeastChords).OrderByDescending(g => g.Count())
            .Select(g => g.GroupBy(p => Harmony.Of(p.Numeral)).MaxBy(n => n.Count())!.Key)];

    private static ExpertChoices Learn(LearningPlace[] train, Dictionary<Mode, Numeral[]> vocabulary)
    {
        var places = train.Where(p => Classes(vocabulary, p.Evidence.Mode).Contains(p.Chord)).ToArray();
        var index = new Dictionary<Feature, int>();
        foreach (var group in places.SelectMany(p => Feature.Of(p.Evidence, p.Chord)).GroupBy(f => f.Feature))
            if (group.Count() >= LeastFeature) index[group.Key] = index.Count;
        var (weights, past) = (new double[index.Count], new double[index.Count]);
        // As much colour as plain chords, taken together.
        var coloured = places.Count(p => p.IsOutside);
        var factor = (double)(places.Length - coloured) / coloured;
        var examples = places.AsParallel().AsOrdered().Select(p => Example(p)).ToArray();
        var random = new Random(Seed);
        for (var epoch = 0; epoch < Epochs; epoch++)
        {
            random.Shuffle(examples);
            foreach (var (features, values, right, weight) in examples)
            {
                var scores = features.Select((f, c) => f.Select((id, i) => weights[id] * values[c][i]).Sum()).ToArray();
                var most = scores.Max();
                var all = 0.0;
                for (var c = 0; c < scores.Length; c++) all += scores[c] = Math.Exp(scores[c] - most);
                var gradient = new Dictionary<int, double>();
                for (var c = 0; c < scores.Length; c++)
                {
                    var error = weight * ((c == right ? 1 : 0) - (scores[c] / all));
                    if (Math.Abs(error) < 1e-4) continue;
                    for (var i = 0; i < features[c].Length; i++)
                        gradient[features[c][i]] = gradient.GetValueOrDefault(features[c][i]) + (error * values[c][i]);
                }

                foreach (var (id, slope) in gradient)
                {
                    var step = slope - (Ridge * weight * weights[id]);
                    past[id] += step * step;
                    weights[id] += Rate * step / (1e-6 + Math.Sqrt(past[id]));
                }
            }
        }

        return new ExpertChoices(vocabulary.ToDictionary(v => v.Key, v => (IReadOnlyList<Numeral>)v.Value),
            index.Where(i => Math.Abs(weights[i.Value]) >= LeastWeight).ToDictionary(i => i.Key, i => weights[i.Value]));

        (int[][] Features, double[][] Values, int Right, double Weight) Example(LearningPlace place)
        {
            var classes = Classes(vocabulary, place.Evidence.Mode);
            var known = classes.Select(c => Feature.Of(place.Evidence, c).Where(f => index.ContainsKey(f.Feature)).ToArray()).ToArray();
            return ([.. known.Select(k => k.Select(f => index[f.Feature]).ToArray())], [.. known.Select(k => k.Select(f =>
                f.Value).ToArray())], Array.IndexOf(classes, place.Chord), place.IsOutside ? factor : 1);
        }
    }

    private static ChordClass[] Classes(Dictionary<Mode, Numeral[]> vocabulary, Mode mode)
    {
        var key = new Key(new Tone(0), mode);
        return [.. vocabulary[mode].Select(n => ChordClass.Of(key, key, n))];
    }

    private static void Print(string name, LearningPlace[] places, ExpertChoices choices, bool coloured)
    {
        var ranks = places.AsParallel().Select(p =>
        {
            var key = new Key(new Tone(0), p.Evidence.Mode);
            var classes = choices.Vocabulary(p.Evidence.Mode).Where(n => !coloured || !Diatonic.Contains(key, n))
                .Select(n => ChordClass.Of(key, key, n)).ToArray();
            var place = Array.IndexOf(classes, p.Chord);
            var own = choices.Weigh(p.Evidence, p.Chord);
            return (Learned: place < 0 ? int.MaxValue : 1 + classes.Count(c => choices.Weigh(p.Evidence, c) > own),
                Frequent: place < 0 ? int.MaxValue : place + 1);
        }).ToArray();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{name} ({ranks.Length}): first {Share(r => r.Learned, 1)}, first five {Share(r => r.Learned, 5)}, first ten "
                + $"{Share(r => r.Learned, 10)}; by frequency {Share(r => r.Frequent, 1)}, {Share(r => r.Frequent, 5)}, "
                + $"{Share(r => r.Frequent, 10)}"));

        string Share(Func<(int Learned, int Frequent), int> rank, int most) => string.Create(CultureInfo.InvariantCulture,
            $"{100.0 * ranks.Count(r => rank(r) <= most) / ranks.Length:0.0} %");
    }

    /// <summary>A place with the expert's chord.</summary>
    private sealed record LearningPlace(PlaceEvidence Evidence, ChordClass Chord, Numeral Numeral, bool IsOutside);
}
