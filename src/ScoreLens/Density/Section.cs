namespace ScoreLens.Density;

/// <summary>What lies between two rehearsal marks.</summary>
/// <param name="Mark">The mark with which it begins; empty before the first.</param>
/// <param name="FirstMeasure">Printed number of the measure in which its first chord begins.</param>
/// <param name="Shares">How much of it lies outside the key.</param>
public sealed record Section(string Mark, string FirstMeasure, Shares Shares)
{
    /// <summary>The sections of a cue in order; none where it has no rehearsal marks.</summary>
    public static IReadOnlyList<Section> Of(TabledCue cue)
    {
        ArgumentNullException.ThrowIfNull(cue);
        if (!cue.Chords.Any(c => c.Rehearsal.Length > 0)) return [];
        var chords = cue.Chords.Select(c => c.Chord).ToList();
        var starts = cue.Chords.Index().Where(c => c.Index == 0 || MarkOf(c.Item) != MarkOf(cue.Chords[c.Index - 1])).ToList();
        return
        [
            .. starts.Select((start, i) => new Section(
                MarkOf(start.Item),
                start.Item.Measure,
                Shares.Between(
                    chords, start.Item.Chord.Reading.Onset,
                    i + 1 < starts.Count ? starts[i + 1].Item.Chord.Reading.Onset : chords[^1].Reading.End))),
        ];
    }

    private static string MarkOf(ChordRow row)
    {
        var plus = row.Rehearsal.LastIndexOf('+');
        return plus > 0 && row.Rehearsal[(plus + 1)..].All(char.IsAsciiDigit) ? row.Rehearsal[..plus] : row.Rehearsal;
    }
}
