using System.CommandLine;
using System.Diagnostics.CodeAnalysis;
using ScoreLens.Cli.Shared;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>Measures from one printed number to another, both included.</summary>
internal sealed record MeasureRange(ScorePlace First, ScorePlace Last)
{
    /// <summary>The option <c>--measures</c>.</summary>
    public static Option<MeasureRange?> Option() => new("--measures")
    {
        Description = "A set of chords for these measures, printed numbers, that brings them into the band together.",
        HelpName = "A-B",
        CustomParser = result =>
        {
            if (TryParse(result.Tokens[0].Value, out var range)) return range;
            result.AddError($"--measures: '{result.Tokens[0].Value}' is not a range such as 9-12.");
            return null;
        },
    };

    /// <summary>Where the measures begin and end in a score.</summary>
    /// <exception cref="UsageException">There are no such measures, or the last comes before the first.</exception>
    public (Fraction Start, Fraction End) In(Score score, int? movement, ClockOptions clock)
    {
        if (!First.TryFind(score, movement, clock, out var start, out var problem)
            || !Last.TryFind(score, movement, clock, out var last, out problem))
            throw new UsageException(problem);
        var end = score.MeasureAt(last).End;
        if (end <= start) throw new UsageException($"--measures: measure {Last.Measure} comes before measure {First.Measure}.");
        return (start, end);
    }

    private static bool TryParse(string text, [NotNullWhen(true)] out MeasureRange? range)
    {
        range = text.Split('-') is [var from, var to] && from.Length > 0 && to.Length > 0 && !text.Contains(':', StringComparison.Ordinal)
            && ScorePlace.TryParse(from, out var first) && ScorePlace.TryParse(to, out var last) ? new MeasureRange(first, last) : null;
        return range is not null;
    }
}
