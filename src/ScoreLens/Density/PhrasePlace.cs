using ScoreLens.Phrases;

namespace ScoreLens.Density;

/// <summary>A phrase and the measures between which it lies.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="FirstMeasure">Printed number of the measure in which it begins; empty where it is not known.</param>
/// <param name="LastMeasure">Printed number of the measure in which it ends; empty where it is not known.</param>
public sealed record PhrasePlace(Phrase Phrase, string FirstMeasure, string LastMeasure)
{
    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>The phrases of an analysis, in order.</summary>
    public static IReadOnlyList<PhrasePlace> Of(CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return
        [
            .. analysis.Phrases.Select(p =>
            {
                var first = analysis.Score.MeasureAt(p.Start);
                return new PhrasePlace(p, first.Number, analysis.Score.LastMeasureBefore(p.End)?.Number ?? "") { Movement = first.Movement };
            }),
        ];
    }
}
