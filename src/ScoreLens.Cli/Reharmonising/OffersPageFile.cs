using ScoreLens.Cli.Shared;
using ScoreLens.Notation;
using ScoreLens.Pages;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Writing;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>The page of what is listed, beside the other results.</summary>
internal static class OffersPageFile
{
    /// <summary>Writes it, and says so in a line; where nothing is listed there is no page.</summary>
    public static string Write(Session session, ScoreInput input, Score score, IReadOnlyList<AlternativeRow> rows)
    {
        if (rows.Count == 0) return $"{input.Path}: nothing is offered, so there is no page\n";
        var places = rows.GroupBy(r => (r.Alternative.Rewriting.Start, r.Alternative.Rewriting.End)).Select(place => new ShownPlace(
            $"Measure {place.First().Measure}, beat {place.First().Beat}"
                + (place.First().To.Length == 0 ? "" : $", to the end of the chord at {place.First().To}; the longest chord there is "
                + $"named"),
            place.First().Alternative.Key, place.First().InsteadOf, place.Key.Start, place.Key.End,
                [.. place.Select(r => Shown(score, r.Alternative))]));
        using var results = session.ResultsIn(input.Folder);
        results.Add($"{input.Name}.offers.html", OffersPage.Write(score, [.. places]));
        results.Commit();
        return $"{input.Path}: the page -> {input.Folder}\n";
    }

    private static ShownOffer Shown(Score score, Alternative alternative) => new(alternative.Rank, alternative.Numeral,
        alternative.Symbol, alternative.Device, alternative.Rewriting.IsPossible ? alternative.Reason
            : $"{alternative.Reason} It cannot be written into the score: {alternative.Rewriting.Obstacle}",
        alternative.Rewriting.IsPossible ? alternative.Rewriting.ApplyTo(score) : null);
}
