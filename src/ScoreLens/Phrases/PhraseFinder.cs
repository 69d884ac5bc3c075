using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;

namespace ScoreLens.Phrases;

/// <summary>Finds phrases and their cadences.</summary>
public static class PhraseFinder
{
    /// <summary>The phrases of a score, in order, without gaps from its start to its end.</summary>
    public static IReadOnlyList<Phrase> Find(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(sonorities);
        ArgumentNullException.ThrowIfNull(reading);
        if (score.Measures.Count == 0) return [];
        return [new Phrase(1, default, score.End, reading.HomeKey, Cadence.None)];
    }
}
