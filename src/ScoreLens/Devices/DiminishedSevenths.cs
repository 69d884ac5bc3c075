using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Spelling of diminished sevenths, which sound alike from each of their tones.</summary>
internal static class DiminishedSevenths
{
    /// <summary>
    /// The diminished seventh that decorates a chord on <paramref name="kept"/>: the kept tone, then the raised second, the
    /// raised fourth and the sixth above it, the order in which its inversions are counted.
    /// </summary>
    public static IReadOnlyList<Tone> SpelledAround(Tone kept) => [kept, kept + 9, kept + 6, kept + 3];
}
