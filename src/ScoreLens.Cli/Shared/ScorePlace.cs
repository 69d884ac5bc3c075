using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Shared;

/// <summary>A place as a musician says it: a printed measure number and a beat, <c>12:3</c>.</summary>
/// <param name="Measure">The printed number; need not be a number.</param>
/// <param name="Beat">The beat, from 1; null for where the measure begins, which in a pickup is not the first beat.</param>
internal sealed record ScorePlace(string Measure, Fraction? Beat)
{
    /// <summary>Reads <c>12</c>, <c>12:3</c>, <c>12:3.5</c>.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out ScorePlace? place)
    {
        place = null;
        var colon = text.LastIndexOf(':');
        var measure = (colon < 0 ? text : text[..colon]).Trim();
        if (measure.Length == 0) return false;
        Fraction? beat = null;
        if (colon >= 0)
        {
            if (!Fraction.TryParse(text[(colon + 1)..], CultureInfo.InvariantCulture, out var number) || number < 1) return false;
            beat = number;
        }

        place = new ScorePlace(measure, beat);
        return true;
    }

    /// <summary>The time of the place in a score, or what is wrong with it and what to do.</summary>
    public bool TryFind(Score score, out Fraction onset, [NotNullWhen(false)] out string? problem)
    {
        (onset, problem) = (default, null);
        var measures = score.Measures.Where(m => m.Number == Measure).ToList();
        if (measures.Count == 0)
        {
            problem = score.Measures.Count == 0
                ? "the score has no measure."
                : $"there is no measure {Measure}; the measures are {score.Measures[0].Number} to {score.Measures[^1].Number}.";
            return false;
        }

        // A measure that is split by a bar line has its number twice: the half that holds the beat.
        foreach (var measure in measures)
        {
            onset = Beat is { } beat ? measure.OnsetOfBeat(beat) : measure.Start;
            if (onset >= measure.Start && onset < measure.End) return true;
        }

        problem = $"measure {Measure} has no beat {Beat}; its beats are {measures[0].BeatAt(measures[0].Start)} up to, not including, {measures[^1].BeatAt(measures[^1].End)}.";
        return false;
    }
}
