using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Reads a key as students write it before or between numerals: <c>G:</c>, <c>g:</c>, <c>Bb:</c>, <c>F♯ minor:</c>, <c>a min:</c>,
/// <c>Gm:</c>, <c>E-flat major</c>, <c>Es-Dur:</c>, <c>c-Moll</c>. Upper case alone is major, lower case alone minor. Without a
/// colon the mode has to be written out, so that no sung syllable is taken for a key.
/// </summary>
internal static partial class KeyMark
{
    /// <summary>Splits a text, its signs already plain, into a key that stands first in it and the rest.</summary>
    public static bool TrySplit(string text, out Key key, out string rest)
    {
        key = default;
        rest = text;
        if (Pattern().Match(text) is not { Success: true } match) return false;
        var mode = match.Groups["mode"].Value;
        if (!match.Groups["colon"].Success && (mode.Length < 3 || match.Groups["rest"].Length > 0)) return false;
        var letter = match.Groups["letter"].Value[0];
        if (!TryTonic(letter, match.Groups["sign"].Value, mode, out var tonic)) return false;
        var minor = mode switch
        {
            "" => char.IsLower(letter),
            "m" => true,
            "M" => false,
            _ => mode.StartsWith("mi", StringComparison.OrdinalIgnoreCase) || mode.StartsWith("mo", StringComparison.OrdinalIgnoreCase),
        };
        key = new Key(tonic, minor ? Mode.Minor : Mode.Major);
        rest = match.Groups["rest"].Value.Trim();
        return true;
    }

    private static bool TryTonic(char letter, string sign, string mode, out Tone tone)
    {
        var german = mode.Equals("dur", StringComparison.OrdinalIgnoreCase) || mode.Equals("moll", StringComparison.OrdinalIgnoreCase);
        tone = default;
        if (char.ToUpperInvariant(letter) == 'H')
        {
            // German B natural; it takes no flat, since B flat is then called B.
            if (sign is not ("" or "is")) return false;
            tone = Tone.Of('B', sign.Length == 0 ? 0 : 1);
            return true;
        }

        var alteration = sign.Trim('-', ' ').ToLowerInvariant() switch
        {
            "" => 0,
            "b" or "flat" or "es" or "s" => -1,
            "#" or "sharp" or "is" => 1,
            "bb" => -2,
            "##" => 2,
            _ => 99,
        };
        if (alteration == 99) return false;
        if (german && alteration == 0 && char.ToUpperInvariant(letter) == 'B') alteration = -1;
        tone = Tone.Of(letter, alteration);
        return true;
    }

    [GeneratedRegex(
        @"^(?:in\s+|->\s*)?\(?\s*(?<letter>[A-Ha-h])(?<sign>bb|##|b|\#|[- ]?[Ff]lat|[- ]?[Ss]harp|es|is|(?<=[EeAa])s(?=[-\s:]))?"
        + @"[-\s]*(?<mode>(?i:major|minor|maj|min|dur|moll)\.?|m|M)?\s*\)?\s*(?:(?<colon>:)\s*\)?\s*(?<rest>.*)|(?<rest>))$",
        RegexOptions.Singleline)]
    private static partial Regex Pattern();
}
