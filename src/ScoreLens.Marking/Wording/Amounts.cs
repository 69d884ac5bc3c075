using System.Globalization;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Marking.Wording;

/// <summary>How numbers read: points, percentages, counts.</summary>
internal static class Amounts
{
    /// <summary>A number with two decimals at most: <c>97.5</c>.</summary>
    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary><c>1 point</c>, <c>2.5 points</c>.</summary>
    public static string Points(double points) => $"{Number(points)} point{(Math.Round(points, 2) == 1 ? "" : "s")}";

    /// <summary>A share in per cent with one decimal at most: <c>23.5 %</c>.</summary>
    public static string Percent(Fraction share) => ShareText.Percent(share);

    /// <summary>A share in whole per cent.</summary>
    public static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(100 * share)} %");

    /// <summary><c>no fault</c>, <c>1 fault</c>, <c>3 faults</c>.</summary>
    public static string Count(int number, string noun) => number switch
    {
        0 => $"no {noun}",
        1 => $"1 {noun}",
        _ => $"{number.ToString(CultureInfo.InvariantCulture)} {noun}s",
    };

    /// <summary><c>C, E and G</c>.</summary>
    public static string List(IEnumerable<string> names)
    {
        var all = names.ToArray();
        return all.Length < 2 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} and {all[^1]}";
    }

    /// <summary>The text with a capital at its start.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
