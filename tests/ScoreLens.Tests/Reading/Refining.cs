using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;

namespace ScoreLens.Tests.Reading;

/// <summary>One refinement alone, on chords that a test writes.</summary>
internal static class Refining
{
    private static readonly Score Empty = new("Study", [], [], [], [], [], []);

    /// <summary>The chords after a refinement, with the numbers that the library reads with.</summary>
    public static IReadOnlyList<ChordReading> By(IRefinement step, IEnumerable<ChordReading> chords, Score? score = null) =>
        step.Apply([.. chords], new RefinementContext(score ?? Empty, score is null ? [] : SonorityFinder.Find(score),
            ReadingSettings.Default));
}
