using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Reads function letters: <c>T</c>, <c>S</c>, <c>D</c> and their minor forms, with parallel and counter-parallel, the double
/// dominant and the Neapolitan, after the usual German form of Riemann's symbols (Grabner, Maler; from memory). Figures other than a
/// seventh, and dominants in brackets, are not read.
/// </summary>
internal static partial class FunctionText
{
    private static readonly Dictionary<string, string> InMajor = new(StringComparer.Ordinal)
    {
        ["T"] = "I",
        ["S"] = "IV",
        ["D"] = "V",
        ["Tp"] = "vi",
        ["Sp"] = "ii",
        ["Dp"] = "iii",
        ["Tg"] = "iii",
        ["Sg"] = "vi",
        ["t"] = "i",
        ["s"] = "iv",
        ["d"] = "v",
        ["tP"] = "bIII",
        ["sP"] = "bVI",
        ["dP"] = "bVII",
        ["tG"] = "bVI",
        ["sG"] = "bII",
        ["DD"] = "V/V",
        ["sN"] = "N6",
    };

    private static readonly Dictionary<string, string> InMinor = new(StringComparer.Ordinal)
    {
        ["T"] = "I",
        ["S"] = "IV",
        ["D"] = "V",
        ["t"] = "i",
        ["s"] = "iv",
        ["d"] = "v",
        ["tP"] = "III",
        ["sP"] = "VI",
        ["dP"] = "VII",
        ["tG"] = "VI",
        ["sG"] = "bII",
        ["DD"] = "V/V",
        ["sN"] = "N6",
    };

    /// <summary>Whether a text is a function letter in some key.</summary>
    public static bool IsFunction(string text) => Numerals(text, InMajor) is not null || Numerals(text, InMinor) is not null;

    /// <summary>The numeral that a function letter means in a key; null where it means none.</summary>
    public static Numeral? In(Key key, string text) => Numerals(text, key.IsMinor ? InMinor : InMajor);

    private static Numeral? Numerals(string text, Dictionary<string, string> table)
    {
        var match = Pattern().Match(NumeralSigns.Plain(text));
        if (!match.Success || !table.TryGetValue(match.Groups["letter"].Value, out var numeral)) return null;
        if (match.Groups["seventh"].Success) numeral = numeral.Insert(numeral.IndexOf('/', StringComparison.Ordinal) is >= 0 and var slash
            ? slash : numeral.Length, "7");
        return Numeral.TryParse(numeral, null, out var result) ? result : null;
    }

    [GeneratedRegex(@"^(?<letter>DD|[TSD][pg]?|[tsd][PG]?|sN|sn)(?<seventh>\s*\^?7)?$")]
    private static partial Regex Pattern();
}
