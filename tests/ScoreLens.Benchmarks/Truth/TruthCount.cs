using System.Globalization;
using ScoreLens.TestKit.Truth;

namespace ScoreLens.Benchmarks.Truth;

/// <summary>What is wrong in the tables of several scores, by kind.</summary>
internal sealed class TruthCount(string name)
{
    private readonly int[] _faults = new int[Enum.GetValues<FaultKind>().Length];
    private int _scores;
    private int _sentences;

    public void Add(int sentences, IReadOnlyList<Fault> faults)
    {
        _scores++;
        _sentences += sentences;
        foreach (var fault in faults) _faults[(int)fault.Kind]++;
    }

    public void Add(TruthCount other)
    {
        _scores += other._scores;
        _sentences += other._sentences;
        for (var i = 0; i < _faults.Length; i++) _faults[i] += other._faults[i];
    }

    /// <summary>Faults of a kind in a thousand sentences.</summary>
    public double PerThousand(FaultKind kind) => _sentences == 0 ? 0 : 1000.0 * _faults[(int)kind] / _sentences;

    public override string ToString()
    {
        var kinds = Enum.GetValues<FaultKind>()
            .Select(k => string.Create(CultureInfo.InvariantCulture, $"{k} {_faults[(int)k]} ({PerThousand(k):0.0})"));
        return $"{name}: {_scores} scores, {_sentences} sentences; faults, and in a thousand sentences: {string.Join(", ", kinds)}";
    }
}
