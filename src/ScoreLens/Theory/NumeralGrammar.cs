using System.Text.RegularExpressions;

namespace ScoreLens.Theory;

/// <summary>How freely a numeral may be written.</summary>
internal enum NumeralStyle
{
    /// <summary>The plain and the display form of tables, command lines and references, without blanks inside.</summary>
    Plain,

    /// <summary>
    /// As students write: blanks and brackets between the parts, quality in words, names written out, inversion letters (<c>Ib</c>).
    /// </summary>
    Handwritten,
}

/// <summary>
/// The one grammar of Roman numerals: accidentals, a degree or a name, a mark for the quality, figures, targets. It is strict: what
/// is not understood whole is not read.
/// </summary>
internal static partial class NumeralGrammar
{
    private const int Longest = 60;

    /// <summary>Reads a numeral; null where the text is none.</summary>
    public static WrittenNumeral? Read(string text, NumeralStyle style) => Read(text, style, out _);

    /// <summary>Reads a numeral and gives its figures as they are written, hyphens for motion over one bass included.</summary>
    public static WrittenNumeral? Read(string text, NumeralStyle style, out string figures)
    {
        figures = "";
        if (text.Length > Longest) return null;
        var plain = style == NumeralStyle.Plain ? Compact(text) : Loose(text);
        if (plain is null) return null;
        if (NamedPattern().Match(plain) is { Success: true } named) return Named(named, style, out figures);
        return DegreePattern().Match(plain) is { Success: true } match ? Degree(match, style, out figures) : null;
    }

    // Notes that a reference adds or leaves out stand in brackets; a hyphen before a degree is a flat there.
    private static string? Compact(string text)
    {
        var plain = NumeralSigns.Plain(AdditionPattern().Replace(text, ""));
        return plain.Contains(' ', StringComparison.Ordinal) ? null : FlatHyphenPattern().Replace(plain, "b");
    }

    private static string Loose(string text)
    {
        var plain = BracketsPattern().Replace(NumeralSigns.Plain(text), m => m.Value == ")(" ? " " : "");
        return ArrowPattern().Replace(OfPattern().Replace(plain, "/"), "/");
    }

    private static WrittenNumeral? Degree(Match match, NumeralStyle style, out string figures)
    {
        figures = match.Groups["fig"].Value.Trim();
        if (!TryTarget(match.Groups["target"].Value, out var target)) return null;
        var sign = match.Groups["alt"].Value;
        var alteration = sign.Count(c => c == '#') - sign.Count(c => c == 'b');
        var written = new WrittenNumeral(alteration, match.Groups["roman"].Value, NumeralMark.None, "", target, sign == "n");
        if (WithQuality(written, match.Groups["quality"].Value, style, ref figures) is not { } named) return null;
        if (match.Groups["letter"].Success)
        {
            if (style == NumeralStyle.Plain || InversionFigures(match.Groups["letter"].Value[0] - 'a',
                figures) is not { } letters) return null;
            figures = letters;
        }

        // In references an accidental raises or lowers a figure that counts; students write the third's accidental beside a triad.
        var counted = style == NumeralStyle.Plain ? figures : FigureSignPattern().Replace(figures, "");
        return named with { Figures = string.Concat(counted.Where(char.IsAsciiDigit)) };
    }

    // The British habit: a, b, c, d for root position and the inversions.
    private static string? InversionFigures(int inversion, string figures) => figures switch
    {
        "7" => ((string[])["7", "65", "43", "42"])[inversion],
        "" when inversion < 3 => ((string[])["", "6", "64"])[inversion],
        _ => null,
    };

    private static WrittenNumeral? Named(Match match, NumeralStyle style, out string figures)
    {
        figures = match.Groups["fig"].Value;
        if (!TryTarget(match.Groups["target"].Value, out var target)) return null;
        var written = match.Groups["name"].Value;
        var upper = written.ToUpperInvariant();
        var name = upper[0] switch
        {
            'I' => "It",
            'F' => "Fr",
            'G' => "Ger",
            'N' => "N",
            _ => upper.StartsWith("CT", StringComparison.Ordinal) ? "CTo" : "Cad",
        };
        if (style == NumeralStyle.Plain && written != name) return null;
        var digits = string.Concat(figures.Where(char.IsAsciiDigit));
        // A lower-case name without figures is a word that is sung.
        if (digits.Length == 0 && char.IsLower(written[0])) return null;
        if (name == "Cad" && digits is not ("" or "64")) return null;
        if (name is "It" or "Fr" or "Ger" && digits == "6") digits = "";
        return new WrittenNumeral(0, name, NumeralMark.None, name == "Cad" ? "64" : digits, target);
    }

    /// <summary>The targets with their slashes, the first the nearest; false where one is no bare degree.</summary>
    private static bool TryTarget(string text, out AppliedTarget? target)
    {
        target = null;
        foreach (var part in text.Replace(" ", "", StringComparison.Ordinal).Split('/').Skip(1).Reverse())
        {
            if (TargetPattern().Match(part) is not { Success: true } match) return false;
            var (sign, roman) = (match.Groups["alt"].Value, match.Groups["roman"].Value);
            var degree = new WrittenNumeral(0, roman, NumeralMark.None, "", null);
            var alteration = sign.Count(c => c == '#') - sign.Count(c => c == 'b');
            target = new AppliedTarget(alteration, degree.Degree, degree.IsUpper ? Mode.Major : Mode.Minor, target);
        }

        return true;
    }

    /// <summary>The numeral with the mark that the text between degree and figures says; null where it says none that there is.</summary>
    private static WrittenNumeral? WithQuality(WrittenNumeral numeral, string text, NumeralStyle style, ref string figures)
    {
        var word = text.Replace(" ", "", StringComparison.Ordinal).TrimEnd('.');
        if (style == NumeralStyle.Plain) return WithPlainQuality(numeral, word, figures);
        var flatFive = figures.Contains("b5", StringComparison.Ordinal);
        var sharpFive = figures.Contains("#5", StringComparison.Ordinal);
        if (flatFive || sharpFive) figures = AlteredFivePattern().Replace(figures, "");
        var hasSeven = figures.Contains('7', StringComparison.Ordinal);
        switch (word)
        {
            case "": return flatFive ? null : numeral with { Mark = sharpFive ? NumeralMark.Augmented : NumeralMark.None };
            case "dom": return numeral with { Mark = NumeralMark.Dominant };
            case "m" or "min" or "mi" or "-":
                if (sharpFive) return null;
                var mark = !flatFive ? NumeralMark.None : hasSeven ? NumeralMark.HalfDiminished : NumeralMark.Diminished;
                return Lower(numeral, mark);
            case "o" or "0" or "dim": return Lower(numeral, NumeralMark.Diminished);
            case "ø" or "/o" or "hd" or "h" or "o/": return Lower(numeral, NumeralMark.HalfDiminished);
            case "+" or "aug": return numeral with { Mark = NumeralMark.Augmented };
            case "maj" or "M" or "ma" or "Maj":
                return numeral with { Mark = sharpFive ? NumeralMark.AugmentedMajorSeventh : NumeralMark.MajorSeventh };
            case "+maj" or "+M": return numeral with { Mark = NumeralMark.AugmentedMajorSeventh };
            default: return null;
        }
    }

    // The marks of the plain form; a plus may follow the figures, and d says a dominant seventh before a 7 alone.
    private static WrittenNumeral? WithPlainQuality(WrittenNumeral numeral, string mark, string figures) => mark switch
    {
        "" when figures.EndsWith('+') => numeral with { Mark = NumeralMark.Augmented },
        "" => numeral,
        "dom" => numeral with { Mark = NumeralMark.Dominant },
        "d" => figures.StartsWith('7') ? numeral with { Mark = NumeralMark.Dominant } : numeral,
        "o" or "0" => numeral with { Mark = NumeralMark.Diminished },
        "ø" or "/o" => numeral with { Mark = NumeralMark.HalfDiminished },
        "+" => numeral with { Mark = NumeralMark.Augmented },
        "maj" or "M" => numeral with { Mark = NumeralMark.MajorSeventh },
        "+maj" or "+M" => numeral with { Mark = NumeralMark.AugmentedMajorSeventh },
        _ => null,
    };

    private static WrittenNumeral Lower(WrittenNumeral numeral, NumeralMark mark) =>
        numeral with { Name = numeral.Name.ToLowerInvariant(), Mark = mark };

    [GeneratedRegex(@"\[[^\]]*\]|[{}]")]
    private static partial Regex AdditionPattern();

    [GeneratedRegex(@"(?<=^|/)-(?=[b#-]?[IViv])")]
    private static partial Regex FlatHyphenPattern();

    [GeneratedRegex(@"\)\(|[()\[\]{}]")]
    private static partial Regex BracketsPattern();

    [GeneratedRegex(@"(?<=[\dIVivoø+])\s*of\s*(?=[b#n]*[IVivl])")]
    private static partial Regex OfPattern();

    [GeneratedRegex(@"\s*->\s*")]
    private static partial Regex ArrowPattern();

    [GeneratedRegex(
        @"^(?<name>(?i:Ital(?:ian)?|It|French|Fr|German|Germ|Ger|Gr|Neapolitan|Neap|Cadential|Cad|CT(?:o|dim))|[NKn]|K)\.?\s*(?:\+|aug\.?\s*)?"
        + @"(?<fig>\d?(?:[/,^_\s-]?\d){0,2})\+?\s*(?<target>(?:/\s*[b#]*[IViv]+\s*)*)$")]
    private static partial Regex NamedPattern();

    [GeneratedRegex(
        @"^(?<alt>[b#]{0,2}|n)\s?(?<roman>VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)(?![IViv])\s?"
        + @"(?<quality>\+maj|\+M|dim\.?|aug\.?|dom\.?|Maj\.?|maj\.?|min\.?|ma|mi|hd|o/|/o|[oøh+mM0]|d(?=\d)|-(?=7))?"
        + @"(?<fig>[\s^_]*(?:[b#n]?(?:\d|b5|\#5)\+?(?:[/,.^_|\s-]*[b#n]?\d\+?)*)?[#n]?)(?<letter>[abcd])?\s*"
        + @"(?<target>(?:/\s*[b#]*[IViv]+\s*)*)$")]
    private static partial Regex DegreePattern();

    [GeneratedRegex(@"^(?<alt>b{0,2}|\#{0,2})(?<roman>VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)$")]
    private static partial Regex TargetPattern();

    [GeneratedRegex(@"[/,]?[b#]5")]
    private static partial Regex AlteredFivePattern();

    [GeneratedRegex(@"[b#n]3|[b#n+^_]")]
    private static partial Regex FigureSignPattern();
}
