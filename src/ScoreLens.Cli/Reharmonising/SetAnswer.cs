using System.Globalization;
using System.Text;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Keys;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;
using ScoreLens.Reharmonising.Writing;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>What is said of a set of chords for a passage: each of them, what they do together, and how to write them.</summary>
internal static class SetAnswer
{
    public static ReharmoniseAnswer Of(Session session, ScoreInput input, ReharmoniseRequest request, CueAnalysis analysis,
        Reharmoniser reharmoniser,
        ColourWish wish)
    {
        var (start, end, name) = Passage(session, request, analysis);
        var set = new SetSearch(reharmoniser, request.Band, request.Order).Find(start, end, wish);
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture,
            $"{input.Path}, {name}: {ShareText.Percent(set.Before)} of the time outside the key; wanted are {set.Goal} %\n");
        if (set.Choices.Count == 0)
        {
            text.Append(set.IsReached ? "  nothing has to change\n" : "  nothing that is offered here brings it nearer\n");
            return new ReharmoniseAnswer([], text.ToString());
        }

        var rows = new List<AlternativeRow>();
        var picks = new List<string>();
        foreach (var (index, alternative) in set.Choices)
        {
            var reading = set.Analysis.Chords[index].Reading;
            var row = AlternativeRow.Of(input.Name, set.Analysis, set.Analysis.Chords[index], alternative) with
            {
                To = PlaceSpan.EndOf(analysis, reading),
            };
            var place = $"{PlaceSpan.Name(analysis.Score, reading.Onset)}{(row.To.Length == 0 ? "" : $"-{row.To}")}";
            text.Append(CultureInfo.InvariantCulture, $"  m. {place}, instead of {ReharmoniseAnswer.Standing(analysis, reading)}\n");
            ReharmoniseAnswer.Describe(text, [row]);
            rows.Add(row);
            picks.Add($"{place}={(alternative.Rank > 0 ? $"{alternative.Rank}" : $"{alternative.Numeral}")}");
        }

        text.Append(CultureInfo.InvariantCulture,
            $"  together: {ShareText.Percent(set.Before)} -> {ShareText.Percent(set.After)}, "
                + $"{(set.IsReached ? "as wanted" : "the nearest that was found")}; to write them: --apply "
                + $"{string.Join(",", picks)}{Like(request)}\n");
        return new ReharmoniseAnswer(rows, text.ToString());
    }

    // Ranks hold under the same band, melody and rule of keys.
    private static string Like(ReharmoniseRequest request) =>
        (request.Band == Band.Default ? "" : $" --band {request.Band}")
            + (request.Melody is { } melody ? $" --melody \"{melody.Text}\"" : "")
            + (request.Order == OfferOrder.Best ? "" : $" --sort {request.Order.Name()}")
            + (request.Keys == KeyRule.Confirm ? "" : $" --keys {request.Keys.Name()}");

    private static (Fraction Start, Fraction End, string Name) Passage(Session session, ReharmoniseRequest request, CueAnalysis analysis)
    {
        if (request.Measures is { } range)
        {
            var (start, end) = range.In(analysis.Score, session.Movement, request.Clock);
            return (start, end, $"measures {range.First.Measure} to {range.Last.Measure}");
        }

        if (request.Phrase is not { } number) return analysis.Chords.Count == 0 ? (Fraction.Zero, Fraction.Zero, "the whole score")
            : (analysis.Chords[0].Reading.Onset, analysis.Chords[^1].Reading.End, session.Movement is { } movement ? $"movement {movement}"
            : "the whole score");
        var phrase = ReharmoniseAnswer.PhraseOf(analysis, number);
        return (phrase.Start, phrase.End, $"phrase {number}");
    }
}
