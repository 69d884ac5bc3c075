using ScoreLens.Reading.Model;

namespace ScoreLens.Reading.Search;

/// <summary>
/// The scores of all numerals of a key at one vertical after another. What all keys of a vertical have in common is laid out once, and
/// the same buffers serve all verticals. For one thread.
/// </summary>
internal sealed class NumeralScores
{
    private readonly NumeralVocabulary _vocabulary;
    private readonly float[][] _fixed;
    private readonly int[] _fixedAt;
    private readonly float[] _spread;
    private readonly float[] _scores;
    private int _spreadAt = -1;

    public NumeralScores(NumeralVocabulary vocabulary)
    {
        _vocabulary = vocabulary;
        _fixed = [.. vocabulary.OfMode.Select(m => new float[m.Length])];
        _fixedAt = [.. _fixed.Select(_ => -1)];
        _spread = new float[vocabulary.SpreadLength];
        _scores = new float[_fixed.Max(f => f.Length)];
    }

    /// <summary>
    /// The scores of all numerals of a mode over a tonic, in the order of the vocabulary's list of that mode, and the logarithm of the
    /// sum of their exponentials. The span holds until the next call.
    /// </summary>
    /// <param name="t">Number of the vertical.</param>
    /// <param name="factors">Its factors.</param>
    /// <param name="mode">0 for major, 1 for minor.</param>
    /// <param name="tonic">Place of the tonic.</param>
    /// <param name="total">The log sum of the scores.</param>
    public ReadOnlySpan<float> Of(int t, ReadOnlySpan<float> factors, int mode, int tonic, out double total)
    {
        if (_spreadAt != t) _vocabulary.Spread(factors, _spread);
        if (_fixedAt[mode] != t) _vocabulary.FixedScores(factors, mode, _fixed[mode]);
        _spreadAt = _fixedAt[mode] = t;
        var scores = _scores.AsSpan(0, _fixed[mode].Length);
        _vocabulary.Scores(factors, _spread, _fixed[mode], mode, tonic, scores);
        total = Exponentials.LogSum(scores);
        return scores;
    }
}
