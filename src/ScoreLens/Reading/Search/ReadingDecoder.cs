using System.Buffers;
using System.Runtime.CompilerServices;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;

namespace ScoreLens.Reading.Search;

/// <summary>A reading of one vertical: the tonic on the line of fifths and a numeral of the vocabulary, which carries the mode.</summary>
internal readonly record struct Pair(int Tonic, int Entry)
{
    // Pairs are looked up for every vertical; what is generated for records is slow until a program has run for a while.
    public bool Equals(Pair other) => Tonic == other.Tonic && Entry == other.Entry;

    public override int GetHashCode() => (Entry << 6) ^ Tonic;
}

/// <summary>What the decoder found: for every vertical the chosen pair, and all pairs considered with their probabilities.</summary>
internal sealed record Decoding(Pair[] Path, IReadOnlyList<(Pair Pair, double Probability)>[] Marginals);

/// <summary>
/// Finds the most probable path of keys through the verticals, then of numerals in those keys (Viterbi, with the model's scores
/// for 'a new key' and 'a new chord' as transitions), and the probability of every reading (forward–backward). A key is
/// weighed with all its numerals together, so that a passage stays in a key even where the chord itself is in doubt.
/// </summary>
internal sealed class ReadingDecoder
{
    private const int Middle = SonorityFeatures.Middle;
    private const int Places = SonorityFeatures.Places;

    private readonly NumeralVocabulary _vocabulary;
    private readonly ReadingSettings _settings;
    private readonly float[] _output;
    private readonly int _stride;
    private readonly int[] _signatures;
    private readonly IReadOnlyList<Sonority> _sonorities;
    private readonly int _count;
    private readonly NumeralScores _scores;
    private readonly KeySums _keySums;
    private readonly double _length;
    private readonly HeardTones _heardTones;
    private readonly CancellationToken _cancellationToken;

    private ReadingDecoder(ReadingModel model, ReadingSettings settings, float[] output, int[] signatures,
        IReadOnlyList<Sonority> sonorities, CancellationToken cancellationToken)
    {
        _cancellationToken = cancellationToken;
        (_vocabulary, _settings, _output, _stride, _signatures, _sonorities) =
            (model.Vocabulary, settings, output, model.OutputStride, signatures, sonorities);
        _count = sonorities.Count;
        _length = Math.Min(sonorities.Where(s => s.Notes.Count > 0).Sum(s => s.Duration.ToDouble()),
            settings.LongestLength) / settings.UsualLength;
        _heardTones = new HeardTones(_vocabulary, sonorities, settings, t => Factors(t)[_vocabulary.NewChordAt] > 0);
        _scores = new NumeralScores(_vocabulary);
        _keySums = new KeySums(_vocabulary);
    }

    public static Decoding Decode(
        ReadingModel model, ReadingSettings settings, float[] output, int[] signatures, IReadOnlyList<Sonority> sonorities,
        CancellationToken cancellationToken = default) =>
        new ReadingDecoder(model, settings, output, signatures, sonorities, cancellationToken).Run();

    // The more verticals in a piece, the more of them say the same of its keys again.
    private double KeyEvidence => Math.Min(_settings.KeyEvidence, 1 / _length);

    private double KeyChange => _settings.KeyChange + (_settings.KeyChangePerLength * Math.Max(0, Math.Log(_length)));

    private readonly record struct LocalKey(int Tonic, int Mode);

    /// <summary>The most probable numerals of a vertical in a key, the best first, and the log sum of the scores of all.</summary>
    private readonly record struct Leaders(int[] Entries, double Total);

    private Decoding Run()
    {
        var (keys, keyPath, keyShares) = Keys();
        var leaders = new Leaders[_count];
        for (var t = 0; t < _count; t++) leaders[t] = LeadersOf(t, keys[keyPath[t]]);
        var (entries, chordPath, shares) = Chords(keys, keyPath, leaders);

        var path = new Pair[_count];
        var marginals = new IReadOnlyList<(Pair, double)>[_count];
        var found = new List<(Pair, double)>();
        var at = 0;
        for (var t = 0; t < _count; t++)
        {
            var tonic = keys[keyPath[t]].Tonic;
            path[t] = new Pair(tonic, entries[t][chordPath[t]]);
            found.Clear();
            var ofKeys = keyShares.AsSpan(t * keys.Length, keys.Length);
            foreach (var entry in entries[t]) found.Add((new Pair(tonic, entry), ofKeys[keyPath[t]] * shares[at++]));
            AddOtherKeys(t, keys, keyPath[t], ofKeys, found);
            marginals[t] = [.. found];
        }

        return new Decoding(path, marginals);
    }

    // The keys that come into question anywhere, the best path through them, and the probability of each at every vertical.
    private (LocalKey[] Keys, int[] Path, double[] Shares) Keys()
    {
        var logs = ArrayPool<double>.Shared.Rent(_count * 2 * Places);
        var keys = new List<LocalKey>();
        var known = new HashSet<LocalKey>();
        for (var t = 0; t < _count; t++)
        {
            _cancellationToken.ThrowIfCancellationRequested();
            var found = logs.AsSpan(t * 2 * Places, 2 * Places);
            FindKeys(t, found);
            for (var place = 0; place < found.Length; place++)
                if (found[place] > _settings.LeastLogOfKey && known.Add(KeyAt(t, place))) keys.Add(KeyAt(t, place));
        }

        // Every key is considered at every vertical, under the same number.
        var (evidence, stays) = (new double[_count * keys.Count], new int[_count * keys.Count]);
        for (var t = 0; t < _count; t++)
        {
            for (var k = 0; k < keys.Count; k++)
            {
                evidence[(t * keys.Count) + k] = KeyEvidenceOf(t, keys[k], logs);
                stays[(t * keys.Count) + k] = k;
            }
        }

        ArrayPool<double>.Shared.Return(logs);
        int[] starts = [.. Enumerable.Range(0, _count + 1).Select(t => t * keys.Count)];
        var chain = new Chain(starts, evidence, stays, [.. Enumerable.Range(0, _count).Select(KeyTransitions)]);
        return ([.. keys], chain.BestPath(KeyEvidence), chain.Marginals(_settings.KeyTrust * KeyEvidence, _settings.KeyTrust));
    }

    private LocalKey KeyAt(int t, int place)
    {
        var (mode, tonic) = Math.DivRem(place, Places);
        return new LocalKey(tonic - Middle + _signatures[t], mode);
    }

    private double KeyEvidenceOf(int t, LocalKey key, double[] logs)
    {
        if (IsSilent(t)) return 0;
        var tonic = key.Tonic - _signatures[t] + Middle;
        return tonic is < 0 or >= Places ? _settings.Floor : Math.Max(_settings.Floor, logs[(((t * 2) + key.Mode) * Places) + tonic]);
    }

    // The numerals that come into question at every vertical, the best path through them, and their probabilities in the key.
    private (int[][] Entries, int[] Path, double[] Shares) Chords(LocalKey[] keys, int[] keyPath, Leaders[] leaders)
    {
        var entries = new int[_count][];
        var starts = new int[_count + 1];
        var candidates = new List<int>();
        for (var t = 0; t < _count; t++)
        {
            _cancellationToken.ThrowIfCancellationRequested();
            FindCandidates(leaders, keyPath, t, keys[keyPath[t]], candidates);
            entries[t] = [.. candidates];
            starts[t + 1] = starts[t] + entries[t].Length;
        }

        var (evidence, stays) = (new double[starts[^1]], new int[starts[^1]]);
        var transitions = new (double, double)[_count];
        for (var t = 0; t < _count; t++)
        {
            var inKey = t > 0 && keyPath[t - 1] == keyPath[t];
            for (var i = 0; i < entries[t].Length; i++) stays[starts[t] + i] = inKey ? Array.IndexOf(entries[t - 1], entries[t][i]) : -1;
            transitions[t] = inKey ? ChordTransitions(t) : (0, 0);
            if (!IsSilent(t)) FindEvidence(t, keys[keyPath[t]], entries[t], leaders[t].Total, evidence.AsSpan(starts[t]));
        }

        var chain = new Chain(starts, evidence, stays, transitions);
        return (entries, chain.BestPath(_settings.ChordEvidence),
            chain.Marginals(_settings.ChordTrust * _settings.ChordEvidence, _settings.ChordTrust));
    }

    // The best numerals of the most probable keys beside the chosen one.
    private void AddOtherKeys(int t, LocalKey[] keys, int chosen, ReadOnlySpan<double> shares, List<(Pair, double)> found)
    {
        const int Numerals = 2;
        Span<int> others = stackalloc int[_settings.OtherKeys];
        Span<(int Entry, double Log)> best = stackalloc (int, double)[Numerals];
        foreach (var other in others[..MostProbable(shares, chosen, _settings.LeastShareOfKey, others)])
        {
            FindBest(t, keys[other], best);
            foreach (var (entry, log) in best) found.Add((new Pair(keys[other].Tonic, entry), shares[other] * Math.Exp(log)));
        }
    }

    // Finds the most probable keys beside the chosen one, the most probable first, and how many there are.
    private static int MostProbable(ReadOnlySpan<double> shares, int chosen, double least, Span<int> most)
    {
        var count = 0;
        for (var k = 0; k < shares.Length; k++)
        {
            if (k == chosen || shares[k] <= least) continue;
            var at = count;
            while (at > 0 && shares[most[at - 1]] < shares[k]) at--;
            if (at == most.Length) continue;
            count = Math.Min(count + 1, most.Length);
            for (var i = count - 1; i > at; i--) most[i] = most[i - 1];
            most[at] = k;
        }

        return count;
    }

    private bool IsSilent(int t) => _sonorities[t].Notes.Count == 0;

    private ReadOnlySpan<float> Factors(int t) => _output.AsSpan(t * _stride, _vocabulary.Outputs);

    // The log probability of each key with all its numerals; keys far behind the best are passed over.
    private void FindKeys(int t, Span<double> logs)
    {
        var factors = Factors(t);
        _keySums.Of(factors, Exponentials.Top(factors[..(2 * Places)]) - (float)_settings.KeyMargin, logs);
        var total = Exponentials.LogSum(logs);
        foreach (ref var log in logs) log -= total;
    }

    private Leaders LeadersOf(int t, LocalKey key)
    {
        Span<(int Entry, double Log)> best = stackalloc (int, double)[_settings.BestNumerals];
        var total = FindBest(t, key, best);
        var entries = new int[_settings.BestNumerals];
        for (var n = 0; n < _settings.BestNumerals; n++) entries[n] = best[n].Entry;
        return new Leaders(entries, total);
    }

    // Finds the most probable numerals of a vertical in a key, with their log probabilities in that key; gives the log sum of all scores.
    private double FindBest(int t, LocalKey key, Span<(int Entry, double Log)> best)
    {
        var scores = _scores.Of(t, Factors(t), key.Mode, TonicPlace(t, key), out var total);
        var inMode = _vocabulary.OfMode[key.Mode];
        FindBest(scores, best);
        foreach (ref var one in best) one = (inMode[one.Entry], one.Log - total);
        return total;
    }

    // The largest scores with their places, the largest first; of equal ones the first.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void FindBest(ReadOnlySpan<float> scores, Span<(int At, double Score)> best)
    {
        best.Fill((0, double.NegativeInfinity));
        for (var i = 0; i < scores.Length; i++)
        {
            if (scores[i] <= best[^1].Score) continue;
            var at = best.Length - 1;
            for (; at > 0 && best[at - 1].Score < scores[i]; at--) best[at] = best[at - 1];
            best[at] = (i, scores[i]);
        }
    }

    private void FindEvidence(int t, LocalKey key, int[] entries, double total, Span<double> evidence)
    {
        var factors = Factors(t);
        var tonic = TonicPlace(t, key);
        for (var i = 0; i < entries.Length; i++) evidence[i] =
            Math.Max(_settings.Floor, _vocabulary.Score(factors, entries[i], tonic) - total);
        _heardTones.AddGains(t, key.Tonic, entries, evidence);
    }

    private int TonicPlace(int t, LocalKey key) => Math.Clamp(key.Tonic - _signatures[t] + Middle, 0, Places - 1);

    // The vertical's own best numerals, its neighbours' and those whose very tones sound, however improbable the model finds them.
    private void FindCandidates(Leaders[] leaders, int[] keyPath, int t, LocalKey key, List<int> entries)
    {
        entries.Clear();
        entries.AddRange(leaders[t].Entries);
        for (var near = Math.Max(0, t - 2); near <= Math.Min(_count - 1, t + 2); near++)
        {
            if (keyPath[near] != keyPath[t]) continue;
            foreach (var entry in leaders[near].Entries.AsSpan(0, _settings.CarriedNumerals))
                if (!entries.Contains(entry)) entries.Add(entry);
        }

        _heardTones.AddCandidates(t, key.Tonic, key.Mode, entries);
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
}
