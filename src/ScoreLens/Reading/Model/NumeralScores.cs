using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The scores of all numerals of a key at one vertical after another. What all keys of a vertical have in common is laid out once, and
/// the same buffers serve all verticals. For one thread.
/// </summary>
internal sealed class NumeralScores
{
    private readonly NumeralVocabulary _vocabulary;
    private readonly float[][] _fixed;
    private readonly float[] _spread;
    private readonly float[] _scores;
    private readonly float[] _shares;
    private int _at = -1;

    public NumeralScores(NumeralVocabulary vocabulary)
    {
        _vocabulary = vocabulary;
        _fixed = [.. vocabulary.OfMode.Select(m => new float[m.Length])];
        _spread = new float[vocabulary.SpreadLength];
        _scores = new float[_fixed.Max(f => f.Length)];
        _shares = new float[_scores.Length];
    }

    /// <summary>
    /// The scores of all numerals of a mode over a tonic, in the order of the vocabulary's list of that mode, and the logarithm of the
    /// sum of their exponentials. The span may be written to; it holds until the next call.
    /// </summary>
    /// <param name="t">Number of the vertical.</param>
    /// <param name="factors">Its factors.</param>
    /// <param name="mode">0 for major, 1 for minor.</param>
    /// <param name="tonic">Place of the tonic.</param>
    /// <param name="total">The log sum of the scores.</param>
    public Span<float> Of(int t, ReadOnlySpan<float> factors, int mode, int tonic, out double total)
    {
        if (_at != t) MoveTo(t, factors);
        var scores = _scores.AsSpan(0, _fixed[mode].Length);
        _vocabulary.Scores(factors, _spread, _fixed[mode], mode, tonic, scores);
        total = LogSum(scores);
        return scores;
    }

    private void MoveTo(int t, ReadOnlySpan<float> factors)
    {
        for (var mode = 0; mode < _fixed.Length; mode++) _vocabulary.FixedScores(factors, mode, _fixed[mode]);
        _vocabulary.Spread(factors, _spread);
        _at = t;
    }

    private double LogSum(ReadOnlySpan<float> values)
    {
        var top = TensorPrimitives.Max(values);
        var shares = _shares.AsSpan(0, values.Length);
        TensorPrimitives.Subtract(values, top, shares);
        TensorPrimitives.Exp(shares, shares);
        return top + Math.Log(TensorPrimitives.Sum<float>(shares));
    }
}
