using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>A reading of one vertical: the tonic on the line of fifths and a numeral of the vocabulary, which carries the mode.</summary>
internal readonly record struct Pair(int Tonic, int Entry);

/// <summary>What the decoder found: for every vertical the chosen pair, and all pairs considered with their probabilities.</summary>
internal sealed record Decoding(Pair[] Path, IReadOnlyList<(Pair Pair, double Probability)>[] Marginals);

/// <summary>How scores become a path. The values were chosen on the validation works (docs/method.md).</summary>
/// <param name="Emission">Weight of a vertical's own log probability.</param>
/// <param name="Transition">Weight of the log probabilities of 'a new chord' and 'a new key'.</param>
/// <param name="KeyChange">Cost of a change of key, in nats.</param>
/// <param name="Flat">Share of trust taken from every probability when marginals are formed, 0..1: it calibrates confidence.</param>
internal sealed record DecoderSettings(double Emission, double Transition, double KeyChange, double Flat)
{
    public static DecoderSettings Default { get; } = new(1, 1, 1, 0.5);
}

/// <summary>
/// Finds the most probable path of keys and numerals through the verticals (Viterbi over the pairs that are probable
/// somewhere near), and the probability of every pair (forward–backward).
/// </summary>
internal sealed class ReadingDecoder
{
    private const int Best = 12;
    private const int Carried = 5;
    private const float KeyMargin = 12;
    private const int Middle = SonorityFeatures.Middle;
    private const int Places = SonorityFeatures.Places;

    private readonly ReadingModel _model;
    private readonly DecoderSettings _settings;
    private readonly float[] _output;
    private readonly int[] _signatures;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly int _count;
    private readonly double[] _normalisers;

    private ReadingDecoder(ReadingModel model, DecoderSettings settings, float[] output, int[] signatures, IReadOnlyList<Sonority> sonorities)
    {
        (_model, _settings, _output, _signatures, _sonorities) = (model, settings, output, signatures, sonorities);
        _count = sonorities.Count;
        _normalisers = new double[_count];
    }

    public static Decoding Decode(
        ReadingModel model, DecoderSettings settings, float[] output, int[] signatures, IReadOnlyList<Sonority> sonorities) =>
        new ReadingDecoder(model, settings, output, signatures, sonorities).Run();

    private Decoding Run()
    {
        var best = new (Pair Pair, double Log)[_count][];
        for (var t = 0; t < _count; t++) best[t] = BestOf(t);
        var candidates = new Pair[_count][];
        var emissions = new double[_count][];
        for (var t = 0; t < _count; t++)
        {
            candidates[t] = Candidates(best, t);
            emissions[t] = [.. candidates[t].Select(p => Emission(t, p))];
        }

        var path = Viterbi(candidates, emissions);
        return new Decoding([.. path.Select((i, t) => candidates[t][i])], Marginals(candidates, emissions));
    }

    private ReadOnlySpan<float> Factors(int t) => _output.AsSpan(t * _model.OutputStride, _model.Vocabulary.Outputs);

    // The best pairs of a vertical by themselves; keys far behind the best are passed over.
    private (Pair, double)[] BestOf(int t)
    {
        var vocabulary = _model.Vocabulary;
        var factors = Factors(t);
        var bestKey = float.NegativeInfinity;
        for (var key = 0; key < 2 * Places; key++) bestKey = Math.Max(bestKey, factors[key]);
        var queue = new PriorityQueue<Pair, float>(Best + 1);
        double sum = 0, top = double.NegativeInfinity;
        Span<float> room = stackalloc float[vocabulary.Classes.Count];
        for (var mode = 0; mode < 2; mode++)
        {
            var entries = vocabulary.OfMode[mode];
            var fixedScores = room[..entries.Length];
            for (var i = 0; i < entries.Length; i++) fixedScores[i] = vocabulary.FixedScore(factors, entries[i]);
            for (var tonic = 0; tonic < Places; tonic++)
            {
                var keyScore = NumeralVocabulary.KeyScore(factors, (Mode)mode, tonic);
                if (keyScore < bestKey - KeyMargin) continue;
                for (var i = 0; i < entries.Length; i++)
                {
                    var score = keyScore + fixedScores[i] + vocabulary.PlacedScore(factors, entries[i], tonic);
                    if (score > top)
                    {
                        sum = (sum * Math.Exp(top - score)) + 1;
                        top = score;
                    }
                    else if (score > top - 20)
                    {
                        sum += Math.Exp(score - top);
                    }

                    if (queue.Count < Best) queue.Enqueue(new Pair(tonic - Middle + _signatures[t], entries[i]), score);
                    else if (queue.TryPeek(out _, out var least) && score > least)
                        queue.DequeueEnqueue(new Pair(tonic - Middle + _signatures[t], entries[i]), score);
                }
            }
        }

        _normalisers[t] = top + Math.Log(sum);
        return [.. queue.UnorderedItems.Select(p => (p.Element, p.Priority - _normalisers[t])).OrderByDescending(p => p.Item2)];
    }

    private static Pair[] Candidates((Pair Pair, double Log)[][] best, int t)
    {
        var pairs = new List<Pair>(best[t].Select(p => p.Pair));
        for (var near = Math.Max(0, t - 2); near <= Math.Min(best.Length - 1, t + 2); near++)
        {
            foreach (var (pair, _) in best[near].Take(Carried))
                if (!pairs.Contains(pair)) pairs.Add(pair);
        }

        return [.. pairs];
    }

    private double Emission(int t, Pair pair)
    {
        if (_sonorities[t].Notes.Count == 0) return 0;
        var tonic = pair.Tonic - _signatures[t] + Middle;
        if (tonic is < 0 or >= Places) return -30 * _settings.Emission;
        var factors = Factors(t);
        var vocabulary = _model.Vocabulary;
        var log = NumeralVocabulary.KeyScore(factors, vocabulary.Classes[pair.Entry].Mode, tonic) + vocabulary.FixedScore(factors, pair.Entry)
            + vocabulary.PlacedScore(factors, pair.Entry, tonic) - _normalisers[t];
        return _settings.Emission * Math.Max(-30, log);
    }

    private (double Same, double Chord, double Key) Transitions(int t)
    {
        var factors = Factors(t);
        var chord = Sigmoid(factors[_model.Vocabulary.NewChordAt]);
        var key = Math.Min(Sigmoid(factors[_model.Vocabulary.NewKeyAt]), 0.98 * chord);
        var w = _settings.Transition;
        return (w * Log(1 - chord), w * Log(chord - key), (w * Log(key)) - _settings.KeyChange);

        static double Sigmoid(double x) => 1 / (1 + Math.Exp(-x));
        static double Log(double p) => Math.Log(Math.Max(p, 1e-5));
    }

    private double Transition((double Same, double Chord, double Key) cost, Pair from, Pair to) =>
        from == to ? cost.Same : IsSameKey(from, to) ? cost.Chord : cost.Key;

    private bool IsSameKey(Pair a, Pair b) =>
        a.Tonic == b.Tonic && _model.Vocabulary.Classes[a.Entry].Mode == _model.Vocabulary.Classes[b.Entry].Mode;

    private int[] Viterbi(Pair[][] candidates, double[][] emissions)
    {
        var back = new int[_count][];
        var value = emissions[0];
        for (var t = 1; t < _count; t++)
        {
            var cost = Transitions(t);
            var next = new double[candidates[t].Length];
            back[t] = new int[next.Length];
            for (var j = 0; j < next.Length; j++)
            {
                next[j] = double.NegativeInfinity;
                for (var i = 0; i < value.Length; i++)
                {
                    var sum = value[i] + Transition(cost, candidates[t - 1][i], candidates[t][j]);
                    if (sum <= next[j]) continue;
                    next[j] = sum;
                    back[t][j] = i;
                }

                next[j] += emissions[t][j];
            }

            value = next;
        }

        var path = new int[_count];
        path[^1] = Array.IndexOf(value, value.Max());
        for (var t = _count - 1; t > 0; t--) path[t - 1] = back[t][path[t]];
        return path;
    }

    private IReadOnlyList<(Pair, double)>[] Marginals(Pair[][] candidates, double[][] emissions)
    {
        // Neighbouring verticals see the same notes, so their evidence is not independent: it is flattened.
        var trust = 1 - _settings.Flat;
        var forward = new double[_count][];
        forward[0] = [.. emissions[0].Select(e => trust * e)];
        for (var t = 1; t < _count; t++)
        {
            var cost = Transitions(t);
            forward[t] = new double[candidates[t].Length];
            for (var j = 0; j < forward[t].Length; j++)
            {
                var (from, to) = (candidates[t - 1], candidates[t][j]);
                forward[t][j] = (trust * emissions[t][j]) + LogSum(forward[t - 1], i => trust * Transition(cost, from[i], to));
            }
        }

        var marginals = new IReadOnlyList<(Pair, double)>[_count];
        var backward = new double[candidates[^1].Length];
        for (var t = _count - 1; t >= 0; t--)
        {
            var (ahead, behind) = (forward[t], backward);
            var total = LogSum(ahead, i => behind[i]);
            marginals[t] = [.. candidates[t].Select((p, i) => (p, Math.Exp(ahead[i] + behind[i] - total))).OrderByDescending(p => p.Item2)];
            if (t == 0) break;
            var cost = Transitions(t);
            var here = candidates[t];
            var sums = new double[here.Length];
            for (var j = 0; j < sums.Length; j++) sums[j] = behind[j] + (trust * emissions[t][j]);
            backward = [.. candidates[t - 1].Select(from => LogSum(sums, j => trust * Transition(cost, from, here[j])))];
        }

        return marginals;
    }

    private static double LogSum(double[] values, Func<int, double> added)
    {
        var top = double.NegativeInfinity;
        Span<double> sums = stackalloc double[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            sums[i] = values[i] + added(i);
            top = Math.Max(top, sums[i]);
        }

        double sum = 0;
        foreach (var s in sums) sum += Math.Exp(s - top);
        return top + Math.Log(sum);
    }
}
