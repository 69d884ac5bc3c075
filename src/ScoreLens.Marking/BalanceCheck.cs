using ScoreLens.Density;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>Checks the share of time outside the key against an assignment's band.</summary>
internal static class BalanceCheck
{
    // Ten percentage points off the band lose everything; nearer ones their part.
    private static readonly Fraction AllIsLost = new(1, 10);

    /// <summary>The remark, with what it costs, where the share lies outside the band.</summary>
    public static IEnumerable<Remark> Run(CueAnalysis analysis, Assignment assignment)
    {
        if (assignment.Band is not { } band) yield break;
        var density = CueDensity.Of(analysis, band);
        var share = Share(density.Whole);
        var distance = share > band.High ? share - band.High : share < band.Low ? band.Low - share : Fraction.Zero;
        if (distance.Sign == 0) yield break;
        var above = share > band.High;
        var phrases = density.Phrases.Where(p => p.Shares.Quarters.Sign > 0).ToList();
        var extreme = above ? phrases.MaxBy(p => Share(p.Shares).ToDouble()) : phrases.MinBy(p => Share(p.Shares).ToDouble());
        var isOne = extreme is null || phrases.Count < 2;
        var facts = new BalanceFacts(
            share, band, assignment.BandOfHomeKey,
            isOne ? null : analysis.Score.MeasureAt(extreme!.Phrase.Start).Number, isOne ? Fraction.Zero : Share(extreme!.Shares));
        yield return Remark.OfWhole(above ? RemarkKind.TooColourful : RemarkKind.TooPlain, facts) with
        {
            Points = assignment.PointsFor(Criterion.Balance) * Math.Min(1, (distance / AllIsLost).ToDouble()),
        };

        Fraction Share(Shares shares) => assignment.BandOfHomeKey ? shares.OutsideHomeTime : shares.OutsideTime;
    }
}
