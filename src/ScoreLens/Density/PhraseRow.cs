using ScoreLens.Phrases;

namespace ScoreLens.Density;

/// <summary>A row of <c>phrases.csv</c>: one phrase.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="FirstMeasure">Printed number of the measure in which it begins.</param>
/// <param name="LastMeasure">Printed number of the measure in which it ends.</param>
/// <param name="Balance">How much of it lies outside the key, and its place against the band.</param>
public sealed record PhraseRow(Phrase Phrase, string FirstMeasure, string LastMeasure, PhraseDensity Balance)
{
    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>The rows of an analysis, a row a phrase, in order.</summary>
    public static IReadOnlyList<PhraseRow> Of(CueAnalysis analysis, CueDensity density)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(density);
        return [.. density.Phrases.Zip(PhrasePlace.Of(analysis), (balance, place) =>
            new PhraseRow(place.Phrase, place.FirstMeasure, place.LastMeasure, balance) { Movement = place.Movement })];
    }
}
