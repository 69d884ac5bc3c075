using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Marking.Assignments;
using ScoreLens.Theory;

namespace ScoreLens.Marking;

/// <summary>Checks the share of time outside the key against an assignment's band.</summary>
internal static class BalanceCheck
{
    // Ten percentage points off the band lose everything; nearer ones their part.
    private static readonly Fraction AllIsLost = new(1, 10);

    /// <summary>The kinds of its remarks.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["too-colourful", "too-plain"];

    /// <summary>The remark, with what it costs, where the share lies outside the band.</summary>
    public static IEnumerable<Remark> Run(CueAnalysis analysis, Assignment assignment)
    {
        if (assignment.Band is not { } band) yield break;
        var density = CueDensity.Of(analysis, band);
        var share = Share(density.Whole);
        var distance = share > band.High ? share - band.High : share < band.Low ? band.Low - share : Fraction.Zero;
        if (distance.Sign == 0) yield break;
        var above = share > band.High;
        var points = assignment.PointsFor(Criterion.Balance) * Math.Min(1, (distance / AllIsLost).ToDouble());
        var phrases = density.Phrases.Where(p => p.Shares.Quarters.Sign > 0).ToList();
        var extreme = above ? phrases.MaxBy(p => Share(p.Shares).ToDouble()) : phrases.MinBy(p => Share(p.Shares).ToDouble());
        var key = assignment.BandOfHomeKey ? "the home key" : "the key";
        var where = extreme is null || phrases.Count < 2 ? "" : $" Begin with the phrase from {PlaceOf(analysis, extreme.Phrase.Start)}, at {Percent(Share(extreme.Shares))}.";
        yield return Remark.OfWhole(
            above ? Kinds[0] : Kinds[1], Criterion.Balance,
            $"{Percent(share)} of the time lies outside {key}; asked for are {band} %.",
            (above ? "Replace some chords from outside by chords of the key." : "Let one or two more chords be coloured: an applied dominant or a borrowed chord.") + where)
            with
        { Points = points };

        Fraction Share(Shares shares) => assignment.BandOfHomeKey ? shares.OutsideHomeTime : shares.OutsideTime;
    }

    private static string PlaceOf(CueAnalysis analysis, Fraction onset) => $"measure {analysis.Score.MeasureAt(onset).Number}";

    private static string Percent(Fraction share) => string.Create(CultureInfo.InvariantCulture, $"{100 * share.ToDouble():0.#} %");
}
