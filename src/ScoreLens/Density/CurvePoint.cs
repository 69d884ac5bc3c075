namespace ScoreLens.Density;

/// <summary>A stretch of so many measures of the curve that shows how the share outside the key goes on through a cue.</summary>
/// <param name="Cue">The cue's name.</param>
/// <param name="FirstMeasure">Printed number of its first measure.</param>
/// <param name="LastMeasure">Printed number of its last measure.</param>
/// <param name="Shares">How much of it lies outside the key.</param>
public sealed record CurvePoint(string Cue, string FirstMeasure, string LastMeasure, Shares Shares)
{
    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>Its start from the last rehearsal mark; empty where there is none.</summary>
    public string Rehearsal { get; init; } = "";

    /// <summary>Its start on the clock; empty where the score has no tempo.</summary>
    public string Time { get; init; } = "";

    /// <summary>
    /// The stretches of a cue in order, one after the other; the last may be shorter. None where the cue has no more measures than that, or
    /// comes from tables, which do not have them.
    /// </summary>
    /// <param name="cue">The cue.</param>
    /// <param name="measures">How many measures, at least 1.</param>
    public static IReadOnlyList<CurvePoint> Of(TabledCue cue, int measures)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentOutOfRangeException.ThrowIfLessThan(measures, 1);
        if (cue.Measures.Count <= measures) return [];
        var chords = cue.Chords.Select(c => c.Chord).ToList();
        var points = new List<CurvePoint>();
        var first = 0;
        for (var i = 0; i < cue.Measures.Count; i += measures)
        {
            var last = Math.Min(i + measures, cue.Measures.Count) - 1;
            var (start, end) = (cue.Measures[i].Start, cue.Measures[last].End);
            while (first < chords.Count && chords[first].Reading.End <= start) first++;
            var shares = Shares.Between(chords.Skip(first).TakeWhile(c => c.Reading.Onset < end), start, end);
            points.Add(new CurvePoint(cue.Name, cue.Measures[i].Number, cue.Measures[last].Number, shares)
            {
                Movement = cue.Movement,
                Rehearsal = cue.PlaceOf(i).Rehearsal,
                Time = cue.PlaceOf(i).Time,
            });
        }

        return points;
    }
}
