using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Keys;

/// <summary>What the decision on keys may look at beside the chords.</summary>
/// <param name="Home">The key of the cue as a whole, which is never taken back.</param>
/// <param name="Phrases">The phrases, as they are found before any key is taken back.</param>
/// <param name="Settings">The numbers that were chosen.</param>
internal sealed record KeyContext(Key Home, IReadOnlyList<Phrase> Phrases, ReadingSettings Settings)
{
    /// <summary>The length of a usual phrase of the cue, in quarter notes: the median; zero where there are no phrases.</summary>
    public double UsualPhrase { get; } = Phrases.Select(p => (p.End - p.Start).ToDouble()).Order().ElementAtOrDefault(Phrases.Count / 2);

    /// <summary>Whether a phrase closes with an authentic cadence in a key between two places.</summary>
    public bool Closes(Key key, Fraction start, Fraction end) => Phrases.Any(p => p.Key == key && p.End > start && p.End <= end
        && p.Cadence is Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic);
}
