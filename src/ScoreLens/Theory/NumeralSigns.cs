using System.Text;
using System.Text.RegularExpressions;

namespace ScoreLens.Theory;

/// <summary>Makes the signs of print plain, so that one grammar reads them all.</summary>
internal static partial class NumeralSigns
{
    private static readonly string[] Upper = ["I", "II", "III", "IV", "V", "VI", "VII"];
    private static readonly string[] Lower = ["i", "ii", "iii", "iv", "v", "vi", "vii"];

    /// <summary>The text with raised and lowered figures, accidentals, quality signs, dashes and arrows in plain characters.</summary>
    public static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (var c in text.Normalize(NormalizationForm.FormC)) plain.Append(Of(c));
        return SpacesPattern().Replace(plain.ToString(), " ").Trim();
    }

    private static string Of(char c) => c switch
    {
        >= '₀' and <= '₉' => ((char)('0' + (c - '₀'))).ToString(),
        '¹' => "1",
        '²' => "2",
        '³' => "3",
        >= '⁴' and <= '⁹' => ((char)('4' + (c - '⁴'))).ToString(),
        '⁰' or '°' or 'º' or '˚' or 'ᵒ' or '◦' or '\uE870' => "o",
        'ø' or 'Ø' or '⌀' or '∅' or '%' or '\uE871' => "ø",
        '⁺' or '\uE872' => "+",
        '♭' or '\uE260' => "b",
        '♯' or '\uE262' => "#",
        '♮' or '\uE261' => "n",
        '⁻' or '₋' or '−' or '–' or '—' or '‑' or '‐' => "-",
        '→' or '⇒' or '➔' => "->",
        '∕' or '⁄' or '\\' or '／' => "/",
        '△' or 'Δ' or '∆' => "maj",
        >= 'Ⅰ' and <= 'Ⅶ' => Upper[c - 'Ⅰ'],
        >= 'ⅰ' and <= 'ⅶ' => Lower[c - 'ⅰ'],
        _ => char.IsWhiteSpace(c) || c is '\u200B' ? " " : c.ToString(),
    };

    [GeneratedRegex(@"\s+")]
    private static partial Regex SpacesPattern();
}
