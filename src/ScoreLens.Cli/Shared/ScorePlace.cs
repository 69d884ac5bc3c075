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
    /// <param name="score">The score.</param>
    /// <param name="movement">The movement that is meant; null where none is named, which leaves a place in several open.</param>
    /// <param name="onset">The time, in quarter notes from the start of the score.</param>
    /// <param name="problem">What is wrong.</param>
    public bool TryFind(Score score, int? movement, out Fraction onset, [NotNullWhen(false)] out string? problem)
    {
        (onset, problem) = (default, null);
        var measures = score.Measures.Where(m => m.Number == Measure && (movement is null || m.Movement == movement)).ToList();
        if (measures.Count == 0)
        {
            var among = score.Measures.Where(m => movement is null || m.Movement == movement).ToList();
            problem = among.Count == 0
                ? "the score has no measure."
                : $"there is no measure {Measure}; the measures are {Ranges(among)}.";
            return false;
        }

        var movements = measures.Select(m => m.Movement).Distinct().ToList();
        if (movements.Count > 1)
        {
            problem = $"measure {Measure} is in several movements: {string.Join(", ", movements)}. Say which one with --movement N.";
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

    private static string Ranges(List<Measure> measures) => string.Join("; ", measures.GroupBy(m => m.Movement).Select(g =>
        (g.Key == 1 && measures[^1].Movement == 1 ? "" : $"in movement {g.Key} ") + $"{g.First().Number} to {g.Last().Number}"));
}
