namespace ScoreLens.Density;

/// <summary>A row of <c>comparison.csv</c>: one cue among others.</summary>
/// <param name="Cue">The cue.</param>
/// <param name="Density">Its balance.</param>
/// <param name="Characteristic">What sets it apart from the others; null where nothing does.</param>
public sealed record ComparisonRow(TabledCue Cue, CueDensity Density, Characteristic? Characteristic)
{
    /// <summary>The rows of several cues, in their order.</summary>
    public static IReadOnlyList<ComparisonRow> Of(IReadOnlyList<TabledCue> cues, Band band)
    {
        ArgumentNullException.ThrowIfNull(cues);
        var densities = cues.Select(c => CueDensity.Of([.. c.Chords.Select(r => r.Chord)], [.. c.Phrases.Select(p => p.Phrase)], band))
            .ToArray();
        return
        [
            .. cues.Select((cue, i) => new ComparisonRow(
                cue, densities[i], Characteristic.Of(densities[i].Whole, densities.Where((_, k) => k != i).Select(d => d.Whole)))),
        ];
    }
}
