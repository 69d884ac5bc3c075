using ScoreLens.Notation;
using ScoreLens.Phrases;

namespace ScoreLens.Density;

/// <summary>Where the start of a measure is, as people say it.</summary>
/// <param name="Rehearsal">From the last rehearsal mark: <c>B+3</c>; empty where there is none.</param>
/// <param name="Time">On the clock; empty where that is not known.</param>
internal readonly record struct MeasurePlace(string Rehearsal, string Time)
{
    /// <summary>The places of a score's measures, in order.</summary>
    public static IReadOnlyList<MeasurePlace> Of(Score score, ClockOptions? clock)
    {
        var marks = RehearsalMarks.Of(score);
        var times = ScoreClock.Of(score, clock ?? new ClockOptions());
        return [.. score.Measures.Select(m => new MeasurePlace(marks.At(m.Start), times?.TextAt(m.Start) ?? ""))];
    }
}

/// <summary>A phrase and the measures between which it lies.</summary>
/// <param name="Phrase">The phrase.</param>
/// <param name="FirstMeasure">Printed number of the measure in which it begins; empty where it is not known.</param>
/// <param name="LastMeasure">Printed number of the measure in which it ends; empty where it is not known.</param>
public sealed record PhrasePlace(Phrase Phrase, string FirstMeasure, string LastMeasure)
{
    /// <summary>Number of its movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>Where it begins, from the last rehearsal mark: <c>B+3</c>; empty where there is none.</summary>
    public string Rehearsal { get; init; } = "";

    /// <summary>When it begins on the clock; empty where that is not known.</summary>
    public string Time { get; init; } = "";

    /// <summary>The phrases of an analysis, in order.</summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="clock">How times on the clock are reckoned; null for the usual way.</param>
    public static IReadOnlyList<PhrasePlace> Of(CueAnalysis analysis, ClockOptions? clock = null)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var marks = RehearsalMarks.Of(analysis.Score);
        var times = ScoreClock.Of(analysis.Score, clock ?? new ClockOptions());
        return
        [
            .. analysis.Phrases.Select(p =>
            {
                var first = analysis.Score.MeasureAt(p.Start);
                return new PhrasePlace(p, first.Number, analysis.Score.LastMeasureBefore(p.End)?.Number ?? "")
                {
                    Movement = first.Movement,
                    Rehearsal = marks.At(p.Start),
                    Time = times?.TextAt(p.Start) ?? "",
                };
            }),
        ];
    }
}
