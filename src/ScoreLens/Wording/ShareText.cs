using System.Globalization;
using ScoreLens.Density;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>Figures as people read them, the same whatever the machine's language.</summary>
public static class ShareText
{
    /// <summary>A share, 0 to 1, in per cent with one decimal where it has one: <c>20.8 %</c>, <c>20 %</c>.</summary>
    public static string Percent(Fraction share) => Percent(share.ToDouble(), "0.#");

    /// <summary>
    /// A share in per cent with as many decimals, at most eight, as show on which side of a band it lies: 19.95 % is below 20 %, and
    /// not 20 %.
    /// </summary>
    public static string Percent(Fraction share, Band band)
    {
        var format = "0.#";
        for (var decimals = 1; decimals < 8; decimals++)
        {
            var shown = Math.Round(100 * share.ToDouble(), decimals, MidpointRounding.AwayFromZero);
            var side = shown > (100 * band.High).ToDouble() ? Verdict.Above : shown < (100 * band.Low).ToDouble() ? Verdict.Below
                : Verdict.Within;
            if (side == band.Judge(share)) break;
            format += "#";
        }

        return Percent(share.ToDouble(), format);
    }

    /// <summary>The same with one decimal always, as columns need it: <c>20.0 %</c>.</summary>
    public static string PercentInColumn(Fraction share) => Percent(share.ToDouble(), "0.0");

    /// <summary>A probability, 0 to 1, in whole per cent: <c>62 %</c>.</summary>
    public static string WholePercent(double share) => Percent(share, "0");

    private static string Percent(double share, string format) => (100 * share).ToString(format, CultureInfo.InvariantCulture) + " %";
}
