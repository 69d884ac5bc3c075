using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>A row of <c>chords.csv</c>: one chord.</summary>
/// <param name="Chord">The chord with its key, numeral, device and resolution.</param>
/// <param name="Measure">The printed number of the measure in which it begins; empty where it is not known.</param>
/// <param name="Beat">The beat on which it begins, from 1.</param>
/// <param name="Phrase">Number of its phrase; 0 where there is none.</param>
public sealed record ChordRow(TaggedChord Chord, string Measure, Fraction Beat, int Phrase)
{
    /// <summary>The rule of keys that it was read with.</summary>
    public KeyRule Keys { get; init; } = KeyRule.Confirm;

    /// <summary>The chord symbol; empty where no chord is named.</summary>
    public string Symbol => Chord.Reading.Numeral is { } numeral ? ChordName.Of(Chord.Reading.Key, numeral).ToString() : "";

    /// <summary>Key and numeral of the next best reading; empty where there is none.</summary>
    public string RunnerUp => Chord.Reading.RunnersUp is [var next, ..] ? $"{next.Key} {next.Numeral}" : "";

    /// <summary>The rows of an analysis, a row a chord, in order.</summary>
    public static IReadOnlyList<ChordRow> Of(CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var rows = new List<ChordRow>(analysis.Chords.Count);
        var phrase = 0;
        foreach (var chord in analysis.Chords)
        {
            var onset = chord.Reading.Onset;
            while (phrase < analysis.Phrases.Count && analysis.Phrases[phrase].End <= onset) phrase++;
            var measure = analysis.Score.MeasureAt(onset);
            rows.Add(new ChordRow(chord, measure.Number, measure.BeatAt(onset),
                phrase < analysis.Phrases.Count ? analysis.Phrases[phrase].Number : 0) { Keys = analysis.Keys });
        }

        return rows;
    }
}
