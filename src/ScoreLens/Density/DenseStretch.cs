namespace ScoreLens.Density;

/// <summary>The stretch of so many measures in which most of the time lies outside the key.</summary>
/// <param name="FirstMeasure">Printed number of its first measure.</param>
/// <param name="LastMeasure">Printed number of its last measure.</param>
/// <param name="Shares">How much of it lies outside the key.</param>
public sealed record DenseStretch(string FirstMeasure, string LastMeasure, Shares Shares)
{
    /// <summary>Its start from the last rehearsal mark; empty where there is none.</summary>
    public string Rehearsal { get; init; } = "";

    /// <summary>Its start on the clock; empty where the score has no tempo.</summary>
    public string Time { get; init; } = "";

    /// <summary>
    /// The densest stretch of a cue, the first of equals; null where the cue has no more measures than that, comes from tables, or has
    /// nothing outside the key.
    /// </summary>
    /// <param name="cue">The cue.</param>
    /// <param name="measures">How many measures, at least 1.</param>
    public static DenseStretch? Of(TabledCue cue, int measures)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentOutOfRangeException.ThrowIfLessThan(measures, 1);
        var chords = cue.Chords.Select(c => c.Chord).ToList();
        DenseStretch? best = null;
        var first = 0;
        for (var i = 0; i + measures < cue.Measures.Count + 1 && cue.Measures.Count > measures; i++)
        {
            var (start, end) = (cue.Measures[i].Start, cue.Measures[i + measures - 1].End);
            while (first < chords.Count && chords[first].Reading.End <= start) first++;
            var shares = Shares.Between(chords.Skip(first).TakeWhile(c => c.Reading.Onset < end), start, end);
            if (shares.OutsideTime > (best?.Shares.OutsideTime ?? 0))
                best = new DenseStretch(cue.Measures[i].Number, cue.Measures[i + measures - 1].Number, shares)
                {
                    Rehearsal = cue.PlaceOf(i).Rehearsal,
                    Time = cue.PlaceOf(i).Time,
                };
        }

        return best;
    }
}
