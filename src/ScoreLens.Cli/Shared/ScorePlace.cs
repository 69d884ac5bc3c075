using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Shared;

/// <summary>
/// A place as a musician says it: a printed measure number and a beat, <c>12:3</c>; a rehearsal mark and measures after it,
/// <c>B+3</c>; or a time on the clock, <c>0:01:23.5</c>.
/// </summary>
/// <param name="Measure">The printed number, which need not be a number; or a rehearsal mark; or a time.</param>
/// <param name="Beat">The beat, from 1; null for where the measure begins, which in a pickup is not the first beat.</param>
internal sealed record ScorePlace(string Measure, Fraction? Beat)
{
    private bool IsTime { get; init; }

    /// <summary>Reads <c>12</c>, <c>12:3</c>, <c>12:3.5</c>.</summary>
    public static bool TryParse(string text, [NotNullWhen(true)] out ScorePlace? place)
    {
        place = null;
        if (text.Count(c => c == ':') >= 2)
        {
            if (!text.All(c => char.IsAsciiDigit(c) || c is ':' or '.')) return false;
            place = new ScorePlace(text.Trim(), null) { IsTime = true };
            return true;
        }

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
    /// <param name="clock">How times on the clock are reckoned.</param>
    /// <param name="onset">The time, in quarter notes from the start of the score.</param>
    /// <param name="problem">What is wrong.</param>
    public bool TryFind(Score score, int? movement, ClockOptions clock, out Fraction onset, [NotNullWhen(false)] out string? problem)
    {
        (onset, problem) = (default, null);
        if (IsTime) return TryFindTime(score, movement, clock, out onset, out problem);
        var measures = score.Measures.Where(m => m.Number == Measure && (movement is null || m.Movement == movement)).ToList();
        var marks = RehearsalMarks.Of(score);
        if (measures.Count == 0) measures = [.. marks.Find(Measure).Where(m => movement is null || m.Movement == movement)];
        if (measures.Count == 0)
        {
            var among = score.Measures.Where(m => movement is null || m.Movement == movement).ToList();
            problem = among.Count == 0
                ? "the score has no measure."
                : $"there is no measure {Measure}; the measures are {Ranges(among)}."
                    + (marks.Texts.Count == 0 ? "" : $" The rehearsal marks are {string.Join(", ", marks.Texts.Distinct())}.");
            return false;
        }

        var movements = measures.Select(m => m.Movement).Distinct().ToList();
        if (movements.Count > 1)
        {
            problem = $"{(measures[0].Number == Measure ? "measure " : "")}{Measure} is in several movements: "
                + $"{string.Join(", ", movements)}. Say which one with --movement N.";
            return false;
        }

        // A measure that is split by a bar line has its number twice: the half that holds the beat.
        foreach (var measure in measures)
        {
            onset = Beat is { } beat ? measure.OnsetOfBeat(beat) : measure.Start;
            if (onset >= measure.Start && onset < measure.End) return true;
        }

        problem = $"measure {Measure} has no beat {Beat}; its beats are {measures[0].BeatAt(measures[0].Start)} up to, not including, "
            + $"{measures[^1].BeatAt(measures[^1].End)}.";
        return false;
    }

    private bool TryFindTime(Score score, int? movement, ClockOptions options, out Fraction onset, [NotNullWhen(false)] out string? problem)
    {
        (onset, problem) = (default, null);
        if (options.Seconds(Measure) is not { } seconds)
        {
            problem = $"'{Measure}' is not a time; write 0:01:23.5 or, with --frames, 01:02:03:12.";
            return false;
        }

        if (ScoreClock.Of(score, options) is not { } clock)
        {
            problem = "the score has no tempo mark, so no place can be found by time; give --tempo.";
            return false;
        }

        var found = clock.PlacesAt(seconds).Where(p => movement is null || score.MeasureAt(p).Movement == movement).ToList();
        if (found.Count == 1)
        {
            onset = found[0];
            return true;
        }

        problem = found.Count == 0
            ? $"nothing is played at {Measure}; the score goes from {clock.TextAt(score.Start)} to the measure that begins at "
                + $"{clock.TextAt(score.Measures[^1].Start)}."
            : $"{Measure} is in several movements: {string.Join(", ", found.Select(p => score.MeasureAt(p).Movement))}. Say which one "
                + $"with --movement N.";
        return false;
    }

    private static string Ranges(List<Measure> measures) => string.Join("; ", measures.GroupBy(m => m.Movement).Select(g =>
        (g.Key == 1 && measures[^1].Movement == 1 ? "" : $"in movement {g.Key} ") + $"{g.First().Number} to {g.Last().Number}"));
}
