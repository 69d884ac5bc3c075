using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
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

    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>
    /// Its place from the last rehearsal mark: <c>B</c>, <c>B+3</c> for the third measure after it; empty where there is none.
    /// </summary>
    public string Rehearsal { get; init; } = "";

    /// <summary>When it comes on the clock; empty where that is not known.</summary>
    public string Time { get; init; } = "";

    /// <summary>Its tones outside the local key and who plays them; empty for a chord of the key.</summary>
    public IReadOnlyList<ColourTone> Colour { get; init; } = [];

    /// <summary>The pedals that sound through the chord, whether they belong to it or not; empty where there is none.</summary>
    public IReadOnlyList<PedalPoint> Pedals { get; init; } = [];

    /// <summary>That one of <see cref="Pedals"/> which is the lowest tone wherever the chord sounds; null where none is.</summary>
    public PedalPoint? LowestPedal { get; init; }

    /// <summary>The degrees of <see cref="Pedals"/> in the keys in which they begin: <c>1</c>, or <c>1 5</c>; empty where there is none.
    /// </summary>
    public string Pedal => string.Join(' ', Pedals.Select(p => p.Degree).Distinct());

    /// <summary>
    /// The numeral; what a written symbol adds to it, a ninth that is lowered or a fourth that is suspended, stands after it in brackets
    /// (<c>V7[b9]</c>). Empty where no chord is named.
    /// </summary>
    public string Numeral => Chord.Reading.Numeral is not { } numeral ? ""
        : Chord.Reading.Written is { Colours: { Count: > 0 } colours } ? $"{numeral}[{string.Join(',', colours)}]" : numeral.ToString();

    /// <summary>The chord symbol: the score's own where it names the chord. Empty where no chord is named.</summary>
    public string Symbol => Chord.Reading.Numeral is not { } numeral ? ""
        : Chord.Reading.Written is { Figures: null } symbol ? symbol.ToString() : ChordName.Of(Chord.Reading.Key, numeral).ToString();

    /// <summary>
    /// Where notes and written symbol disagree, the chord that the row does not have: what plainly sounds, or the score's own symbol.
    /// Empty where they agree.
    /// </summary>
    public string Disagrees => Chord.Reading.Disagrees is not { } other ? ""
        : Chord.Reading.Written is null ? $"symbol {other}" : $"notes {other}";

    /// <summary>Key and numeral of the next best reading; empty where there is none.</summary>
    public string RunnerUp => Chord.Reading.RunnersUp is [var next, ..] ? $"{next.Key} {next.Numeral}" : "";

    /// <summary>The rows of an analysis, a row a chord, in order.</summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static IReadOnlyList<ChordRow> Of(CueAnalysis analysis, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var marks = RehearsalMarks.Of(analysis.Score);
        var times = ScoreClock.Of(analysis.Score, clock ?? new ClockOptions());
        var rows = new List<ChordRow>(analysis.Chords.Count);
        var pedals = analysis.Pedals;
        var phrase = 0;
        foreach (var chord in analysis.Chords)
        {
            var onset = chord.Reading.Onset;
            while (phrase < analysis.Phrases.Count && analysis.Phrases[phrase].End <= onset) phrase++;
            var measure = analysis.Score.MeasureAt(onset);
            PedalPoint[] beside = [.. pedals.Where(p => p.Holds(chord.Reading))];
            var number = phrase < analysis.Phrases.Count && analysis.Phrases[phrase].Start <= onset ? analysis.Phrases[phrase].Number : 0;
            rows.Add(new ChordRow(chord, measure.Number, measure.BeatAt(onset), number)
            {
                Keys = analysis.Keys,
                Movement = measure.Movement,
                Rehearsal = marks.At(onset),
                Time = times?.TextAt(onset) ?? "",
                Colour = analysis.ColourOf(chord),
                Pedals = beside,
                LowestPedal = beside.FirstOrDefault(p => analysis.IsLowest(p, chord.Reading)),
            });
        }

        return rows;
    }
}
