using ScoreLens.Notation;
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

    /// <summary>Where it begins, from the last rehearsal mark; empty where there is none.</summary>
    public string Rehearsal { get; init; } = "";

    /// <summary>When it begins on the clock; empty where that is not known.</summary>
    public string Time { get; init; } = "";

    /// <summary>The rows of an analysis, a row a phrase, in order.</summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="density">Its balance.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static IReadOnlyList<PhraseRow> Of(CueAnalysis analysis, CueDensity density, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(density);
        return [.. density.Phrases.Zip(PhrasePlace.Of(analysis, clock), (balance, place) =>
            new PhraseRow(place.Phrase, place.FirstMeasure, place.LastMeasure, balance)
            {
                Movement = place.Movement,
                Rehearsal = place.Rehearsal,
                Time = place.Time,
            })];
    }
}
