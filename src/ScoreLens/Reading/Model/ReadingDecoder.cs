using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>A reading of one vertical: the tonic on the line of fifths and a numeral of the vocabulary, which carries the mode.</summary>
internal readonly record struct Pair(int Tonic, int Entry);

/// <summary>What the decoder found: for every vertical the chosen pair, and all pairs considered with their probabilities.</summary>
internal sealed record Decoding(Pair[] Path, IReadOnlyList<(Pair Pair, double Probability)>[] Marginals);

/// <summary>How scores become a path. The values were chosen on the validation works (docs/method.md).</summary>
/// <param name="KeyEvidence">Weight of a vertical's own log probability of a key, in a movement of usual length.</param>
/// <param name="KeyChange">Cost of a change of key beside the model's own 'a new key', in nats, in a movement of usual length.</param>
/// <param name="ChordEvidence">Weight of a vertical's own log probability of a numeral in the key.</param>
/// <param name="KeyTrust">Share of the evidence for keys that probabilities are formed from, 0..1: neighbouring verticals see the same notes.</param>
/// <param name="ChordTrust">The same for numerals.</param>
internal sealed record DecoderSettings(double KeyEvidence, double KeyChange, double ChordEvidence, double KeyTrust, double ChordTrust)
{
    public static DecoderSettings Default { get; } = new(1, 0.5, 1.5, 0.4, 0.4);
}

/// <summary>
/// Finds the most probable path of keys through the verticals, then of numerals in those keys (Viterbi, with the model's scores
/// for 'a new key' and 'a new chord' as transitions), and the probability of every reading (forward–backward). A key is
/// weighed with all its numerals together, so that a passage stays in a key even where the chord itself is in doubt.
/// </summary>
internal sealed class ReadingDecoder
{
    private const int Best = 10;
    private const int Carried = 4;
    private const int OtherKeys = 3;
    private const float KeyMargin = 8;
    private const double Floor = -18;

    // The longer a movement, the longer its keys hold. In the open works a key holds about 4 quarter notes in textbook examples of
    // 11, 8 in chorales of 50, 20 in songs and keyboard pieces of 150, 53 in the one movement of 1,176. Up to the usual length the
    // learned scores say so themselves; beyond the longest that was counted nothing is known, and nothing more is assumed.
    private const double UsualLength = 200;
    private const double LongestLength = 1200;
    private const double KeyChangePerLength = 8;

    private const int Middle = SonorityFeatures.Middle;
    private const int Places = SonorityFeatures.Places;

    private readonly NumeralVocabulary _vocabulary;
    private readonly DecoderSettings _settings;
    private readonly float[] _output;
    private readonly int _stride;
    private readonly int[] _signatures;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly int _count;
    private readonly float[] _scores;
    private readonly float[] _shares;
    private readonly float[][] _fixed;
    private readonly double _length;
    private readonly WholeChords _wholeChords;
    private int _fixedAt = -1;

    private ReadingDecoder(ReadingModel model, DecoderSettings settings, float[] output, int[] signatures, IReadOnlyList<Sonority> sonorities)
    {
        (_vocabulary, _settings, _output, _stride, _signatures, _sonorities) = (model.Vocabulary, settings, output, model.OutputStride, signatures, sonorities);
        _count = sonorities.Count;
        _length = Math.Clamp(sonorities.Where(s => s.Notes.Count > 0).Sum(s => s.Duration.ToDouble()) / UsualLength, 1, LongestLength / UsualLength);
        _wholeChords = new WholeChords(_vocabulary, sonorities, t => Factors(t)[_vocabulary.NewChordAt] > 0);
        _scores = new float[_vocabulary.OfMode.Max(m => m.Length)];
        _shares = new float[_scores.Length];
        _fixed = [.. _vocabulary.OfMode.Select(m => new float[m.Length])];
    }

    public static Decoding Decode(
        ReadingModel model, DecoderSettings settings, float[] output, int[] signatures, IReadOnlyList<Sonority> sonorities) =>
        new ReadingDecoder(model, settings, output, signatures, sonorities).Run();

    // The more verticals in a movement, the more of them say the same of its keys again.
    private double KeyEvidence => _settings.KeyEvidence / _length;

    private double KeyChange => _settings.KeyChange + (KeyChangePerLength * Math.Log(_length));

    private readonly record struct LocalKey(int Tonic, int Mode);

    private Decoding Run()
    {
        var keyLogs = new Dictionary<LocalKey, double>[_count];
        for (var t = 0; t < _count; t++) keyLogs[t] = KeysOf(t);
        LocalKey[] keys = [.. keyLogs.SelectMany(k => k.Where(p => p.Value > -7).Select(p => p.Key)).Distinct()];
        var keyEvidence = new double[_count][];
        for (var t = 0; t < _count; t++)
            keyEvidence[t] = IsSilent(t) ? new double[keys.Length] : [.. keys.Select(k => Math.Max(Floor, keyLogs[t].GetValueOrDefault(k, Floor)))];
        var keyStates = new Chain(Enumerable.Repeat(keys.Length, _count).ToArray(), keyEvidence, (_, i, j) => i == j ? 0 : 1, KeyTransitions);
        var keyPath = keyStates.BestPath(KeyEvidence);
        var keyShares = keyStates.Marginals(_settings.KeyTrust * KeyEvidence, _settings.KeyTrust);

        var best = new (int Entry, double Log)[_count][];
        for (var t = 0; t < _count; t++) best[t] = NumeralsOf(t, keys[keyPath[t]], Best);
        var entries = new int[_count][];
        var evidence = new double[_count][];
        for (var t = 0; t < _count; t++)
        {
            entries[t] = Candidates(best, keyPath, t, keys[keyPath[t]]);
            evidence[t] = Evidence(t, keys[keyPath[t]], entries[t]);
        }

        var chords = new Chain(
            [.. entries.Select(e => e.Length)],
            evidence,
            (t, i, j) => keyPath[t - 1] == keyPath[t] && entries[t - 1][i] == entries[t][j] ? 0 : 1,
            t => keyPath[t - 1] == keyPath[t] ? ChordTransitions(t) : (0, 0));
        var chordPath = chords.BestPath(_settings.ChordEvidence);
        var shares = chords.Marginals(_settings.ChordTrust * _settings.ChordEvidence, _settings.ChordTrust);

        var path = new Pair[_count];
        var marginals = new IReadOnlyList<(Pair, double)>[_count];
        for (var t = 0; t < _count; t++)
        {
            var key = keys[keyPath[t]];
            path[t] = new Pair(key.Tonic, entries[t][chordPath[t]]);
            var inKey = keyShares[t][keyPath[t]];
            var found = new List<(Pair, double)>();
            for (var i = 0; i < entries[t].Length; i++) found.Add((new Pair(key.Tonic, entries[t][i]), inKey * shares[t][i]));
            foreach (var (other, share) in keyShares[t].Select((p, k) => (k, p)).Where(p => p.k != keyPath[t] && p.p > 0.02).OrderByDescending(p => p.p).Take(OtherKeys))
                foreach (var (entry, log) in NumeralsOf(t, keys[other], 2)) found.Add((new Pair(keys[other].Tonic, entry), share * Math.Exp(log)));
            marginals[t] = found;
        }

        return new Decoding(path, marginals);
    }

    private bool IsSilent(int t) => _sonorities[t].Notes.Count == 0;

    private ReadOnlySpan<float> Factors(int t) => _output.AsSpan(t * _stride, _vocabulary.Outputs);

    // The log probability of each key with all its numerals; keys far behind the best are passed over.
    private Dictionary<LocalKey, double> KeysOf(int t)
    {
        var factors = Factors(t);
        var bestKey = float.NegativeInfinity;
        for (var key = 0; key < 2 * Places; key++) bestKey = Math.Max(bestKey, factors[key]);
        var sums = new Dictionary<LocalKey, double>();
        for (var mode = 0; mode < 2; mode++)
        {
            for (var tonic = 0; tonic < Places; tonic++)
            {
                if (NumeralVocabulary.KeyScore(factors, (Mode)mode, tonic) < bestKey - KeyMargin) continue;
                sums[new LocalKey(tonic - Middle + _signatures[t], mode)] = LogSum(Score(t, mode, tonic));
            }
        }

        var total = LogSum([.. sums.Values]);
        return sums.ToDictionary(p => p.Key, p => p.Value - total);
    }

    // The scores of all numerals of a mode over a tonic, in the order of the vocabulary's list of that mode.
    private Span<float> Score(int t, int mode, int tonic)
    {
        var factors = Factors(t);
        if (_fixedAt != t)
        {
            for (var m = 0; m < 2; m++) _vocabulary.FixedScores(factors, m, _fixed[m]);
            _fixedAt = t;
        }

        var scores = _scores.AsSpan(0, _fixed[mode].Length);
        _vocabulary.Scores(factors, _fixed[mode], mode, tonic, scores);
        return scores;
    }

    // The most probable numerals of a vertical in a key, with their log probabilities in that key.
    private (int Entry, double Log)[] NumeralsOf(int t, LocalKey key, int count)
    {
        var scores = Score(t, key.Mode, TonicPlace(t, key));
        var total = LogSum(scores);
        var found = new (int Entry, double Log)[count];
        for (var n = 0; n < count; n++)
        {
            var top = System.Numerics.Tensors.TensorPrimitives.IndexOfMax<float>(scores);
            found[n] = (_vocabulary.OfMode[key.Mode][top], scores[top] - total);
            scores[top] = float.NegativeInfinity;
        }

        return found;
    }

    private double[] Evidence(int t, LocalKey key, int[] entries)
    {
        if (IsSilent(t)) return new double[entries.Length];
        var tonic = TonicPlace(t, key);
        var scores = Score(t, key.Mode, tonic);
        var total = LogSum(scores);
        var logs = new double[entries.Length];
        for (var i = 0; i < entries.Length; i++)
        {
            var entry = entries[i];
            var score = _vocabulary.IsLearned(entry) ? scores[_vocabulary.IndexInMode[entry]] : _vocabulary.UnlearnedScore(Factors(t), entry, tonic);
            logs[i] = Math.Max(Floor, score - total) + _wholeChords.Gain(t, key.Tonic, entry);
        }

        return logs;
    }

    private int TonicPlace(int t, LocalKey key) => Math.Clamp(key.Tonic - _signatures[t] + Middle, 0, Places - 1);

    // The vertical's own best numerals, its neighbours' and those whose very tones sound, however improbable the model finds them.
    private int[] Candidates((int Entry, double Log)[][] best, int[] keyPath, int t, LocalKey key)
    {
        var entries = new List<int>(best[t].Select(p => p.Entry));
        for (var near = Math.Max(0, t - 2); near <= Math.Min(best.Length - 1, t + 2); near++)
        {
            if (keyPath[near] != keyPath[t]) continue;
            foreach (var (entry, _) in best[near].Take(Carried))
                if (!entries.Contains(entry)) entries.Add(entry);
        }

        _wholeChords.AddCandidates(t, key.Tonic, key.Mode, entries);
        return [.. entries];
    }

    private (double Same, double Change) ChordTransitions(int t)
    {
        var chord = Sigmoid(Factors(t)[_vocabulary.NewChordAt]);
        return (Log(1 - chord), Log(chord));
    }

    private (double Same, double Change) KeyTransitions(int t)
    {
        var key = Sigmoid(Factors(t)[_vocabulary.NewKeyAt]);
        return (Log(1 - key), Log(key) - KeyChange);
    }

    private static double Sigmoid(double x) => 1 / (1 + Math.Exp(-x));

    private static double Log(double p) => Math.Log(Math.Max(p, 1e-5));

    private double LogSum(ReadOnlySpan<float> values)
    {
        var top = System.Numerics.Tensors.TensorPrimitives.Max(values);
        var shares = _shares.AsSpan(0, values.Length);
        System.Numerics.Tensors.TensorPrimitives.Subtract(values, top, shares);
        System.Numerics.Tensors.TensorPrimitives.Exp(shares, shares);
        return top + Math.Log(System.Numerics.Tensors.TensorPrimitives.Sum<float>(shares));
    }

    private static double LogSum(ReadOnlySpan<double> values)
    {
        var top = System.Numerics.Tensors.TensorPrimitives.Max(values);
        double sum = 0;
        foreach (var v in values) sum += Math.Exp(v - top);
        return top + Math.Log(sum);
    }
}
