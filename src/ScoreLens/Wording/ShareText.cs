using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Wording;

/// <summary>Figures as people read them, the same whatever the machine's language.</summary>
public static class ShareText
{
    /// <summary>A share, 0 to 1, in per cent with one decimal where it has one: <c>20.8 %</c>, <c>20 %</c>.</summary>
    public static string Percent(Fraction share) => Percent(share.ToDouble(), "0.#");

    /// <summary>The same with one decimal always, as columns need it: <c>20.0 %</c>.</summary>
    public static string PercentInColumn(Fraction share) => Percent(share.ToDouble(), "0.0");

    /// <summary>A probability, 0 to 1, in whole per cent: <c>62 %</c>.</summary>
    public static string WholePercent(double share) => Percent(share, "0");

    private static string Percent(double share, string format) => (100 * share).ToString(format, CultureInfo.InvariantCulture) + " %";
}
