using ScoreLens.Reading.Model;

namespace ScoreLens.Reading.Search;

/// <summary>
/// The scores of keys with all their numerals together, at one vertical after another. The same buffers serve all verticals. For one
/// thread.
/// </summary>
internal sealed class KeySums
{
    private const int Places = SonorityFeatures.Places;

    private readonly NumeralVocabulary _vocabulary;
    private readonly double[] _powers;
    private readonly double[] _spread;
    private readonly double[] _weights;

    public KeySums(NumeralVocabulary vocabulary)
    {
        _vocabulary = vocabulary;
        _powers = new double[vocabulary.Outputs];
        _spread = new double[vocabulary.SpreadLength];
        _weights = new double[vocabulary.GroupsOfMode.Max(g => g.Weights)];
    }

    /// <summary>
    /// For every place of a tonic in major, then in minor, the logarithm of the sum of the exponentials of all numerals' scores; minus
    /// infinity where the key's own score lies below the least one.
    /// </summary>
    /// <param name="factors">The factors of a vertical.</param>
    /// <param name="least">The least score of a key that is looked at.</param>
    /// <param name="logs">Takes the logarithms.</param>
    public void Of(ReadOnlySpan<float> factors, float least, Span<double> logs)
    {
        double tops = 0;
        foreach (var (start, end) in _vocabulary.NumeralFactors) tops += Exponentials.BelowTop(factors[start..end],
            _powers.AsSpan(start..end));
        _vocabulary.Spread<double>(_powers, _spread);
        logs.Fill(double.NegativeInfinity);
        for (var mode = 0; mode < _vocabulary.GroupsOfMode.Length; mode++)
            AddMode(_vocabulary.GroupsOfMode[mode], factors.Slice(mode * Places, Places), least, tops, logs.Slice(mode * Places, Places));
    }

    // Several tonics are taken at a time, from one on that is looked at.
    private void AddMode(NumeralGroups groups, ReadOnlySpan<float> scores, float least, double tops, Span<double> logs)
    {
        groups.Weigh(_powers, _weights);
        Span<double> sums = stackalloc double[NumeralGroups.Tonics];
        for (var next = 0; next < Places;)
        {
            if (scores[next] < least)
            {
                next++;
                continue;
            }

            var tonic = Math.Min(next, Places - NumeralGroups.Tonics);
            groups.Sum(_weights, _spread.AsSpan(tonic), sums);
            for (next = tonic; next < tonic + sums.Length; next++)
                if (scores[next] >= least) logs[next] = scores[next] + tops + Math.Log(sums[next - tonic]);
        }
    }
}
