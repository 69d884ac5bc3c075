using System.Globalization;
using ScoreLens.Theory;

namespace ScoreLens.Output.Tables;

/// <summary>How values are written in tables, and read back.</summary>
internal static class TableText
{
    // A spreadsheet takes a cell that begins with one of these for a formula.
    private const string FormulaStarts = "=+-@\t\r";

    /// <summary>A share, 0 to 1, with at most six decimals.</summary>
    public static string Share(Fraction share) => Share(share.ToDouble());

    /// <inheritdoc cref="Share(Fraction)"/>
    public static string Share(double share) => share.ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>Free text from a score or about it, so that no spreadsheet takes it for a formula.</summary>
    public static string Safe(string text) =>
        text.Length > 0 && FormulaStarts.Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;

    /// <summary>The way back from <see cref="Safe"/>.</summary>
    public static string Unsafe(string cell) =>
        cell is ['\'', var start, ..] && FormulaStarts.Contains(start, StringComparison.Ordinal) ? cell[1..] : cell;
}
