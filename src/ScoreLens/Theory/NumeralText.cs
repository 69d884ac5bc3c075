using System.Diagnostics.CodeAnalysis;
using System.Text;
using System.Text.RegularExpressions;

namespace ScoreLens.Theory;

/// <summary>The grammar of <see cref="Numeral"/>: plain text, text for scores, and the reader of both.</summary>
internal static partial class NumeralText
{
    private static readonly string[] Upper = ["I", "II", "III", "IV", "V", "VI", "VII"];
    private static readonly string[] Lower = ["i", "ii", "iii", "iv", "v", "vi", "vii"];

    public static string Roman(int degree, bool upper) => (upper ? Upper : Lower)[degree - 1];

    public static string Accidental(int alteration) => new(alteration < 0 ? 'b' : '#', Math.Abs(alteration));

    public static string Plain(Numeral n)
    {
        var text = new StringBuilder(Head(n)).Append(Figures(n));
        if (n.Target is not null) text.Append('/').Append(n.Target);
        return text.ToString();
    }

    public static string Display(Numeral n)
    {
        var figures = Figures(n);
        var raised = figures.Length == 2 && n.Extension < 10
            ? $"{Superscript(figures[0])}{Subscript(figures[1])}"
            : string.Concat(figures.Select(Superscript));
        var text = Signs(Head(n)) + raised;
        return n.Target is null ? text : $"{text}/{Signs(n.Target.ToString())}";
    }

    private static string Head(Numeral n)
    {
        switch (n.Kind)
        {
            case NumeralKind.CadentialSixFour: return "Cad";
            case NumeralKind.CommonToneDiminished: return "CTo";
            case NumeralKind.AugmentedSixth:
                return n.Quality switch { ChordQuality.ItalianSixth => "It", ChordQuality.FrenchSixth => "Fr", _ => "Ger" };
            case NumeralKind.Plain when IsNeapolitanSixth(n): return "N";
            default:
                var mark = n.Quality switch
                {
                    ChordQuality.Diminished or ChordQuality.DiminishedSeventh => "o",
                    ChordQuality.HalfDiminishedSeventh => "ø",
                    ChordQuality.Augmented or ChordQuality.AugmentedSeventh => "+",
                    ChordQuality.AugmentedMajorSeventh => "+maj",
                    ChordQuality.MajorSeventh or ChordQuality.MinorMajorSeventh => "maj",
                    _ => "",
                };
                return Accidental(n.Alteration) + Roman(n.Degree, n.Quality.HasMajorThird()) + mark;
        }
    }

    private static bool IsNeapolitanSixth(Numeral n) => n is { Degree: 2, Alteration: -1, Quality: ChordQuality.Major, Inversion: 1 };

    private static string Figures(Numeral n) => n.Quality switch
    {
        ChordQuality.ItalianSixth => n.Inversion switch { 0 => "6", 1 => "53", _ => "64" },
        ChordQuality.FrenchSixth => n.Inversion switch { 0 => "43", 1 => "7", 2 => "42", _ => "65" },
        ChordQuality.GermanSixth => n.Inversion switch { 0 => "65", 1 => "7", 2 => "43", _ => "42" },
        _ when n.Extension != 0 => n.Extension.ToString(System.Globalization.CultureInfo.InvariantCulture),
        var q when q.IsSeventh() => n.Inversion switch { 0 => "7", 1 => "65", 2 => "43", _ => "42" },
        _ => n.Inversion switch { 0 => "", 1 => "6", _ => "64" },
    };

    private static string Signs(string plain) =>
        plain.Replace('b', '♭').Replace('#', '♯').Replace("CTo", "CT°", StringComparison.Ordinal).Replace('o', '°');

    private static char Superscript(char digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[digit - '0'];

    private static char Subscript(char digit) => "₀₁₂₃₄₅₆₇₈₉"[digit - '0'];

    /// <summary>Reads a numeral in a key; a bare seventh is the scale's own where <paramref name="seventhsOfScale"/> is set.</summary>
    public static bool TryParse([NotNullWhen(true)] string? s, Mode keyMode, bool seventhsOfScale, [MaybeNullWhen(false)] out Numeral result)
    {
        result = null;
        if (string.IsNullOrWhiteSpace(s) || s.Length > 60) return false;
        var parts = SplitTargets(Simplify(s));
        AppliedTarget? target = null;
        for (var i = parts.Count - 1; i >= 1; i--)
        {
            if (HeadPattern().Match(parts[i]) is not { Success: true } m || !IsRoman(m, out var targetDegree, out var targetUpper)
                || !TryAlteration(m, out var targetAlteration)) return false;
            target = new AppliedTarget(targetAlteration, targetDegree, targetUpper ? Mode.Major : Mode.Minor, target);
        }

        if (HeadPattern().Match(parts[0]) is not { Success: true } match || !TryAlteration(match, out var alteration)) return false;
        var name = match.Groups["name"].Value;
        var rest = match.Groups["rest"].Value;
        if (RestPattern().Match(rest) is not { Success: true }) return false;
        var digits = string.Concat(rest.Where(char.IsAsciiDigit));
        if (!TryFigures(digits, out var inversion, out var seventh, out var extension)) return false;
        var localMode = target?.Mode ?? keyMode;
        switch (name)
        {
            case "It" or "Fr" or "Ger":
                var sixth = name switch { "It" => ChordQuality.ItalianSixth, "Fr" => ChordQuality.FrenchSixth, _ => ChordQuality.GermanSixth };
                result = Numeral.AugmentedSixth(sixth, SixthInversion(sixth, digits), target);
                return true;
            case "Cad":
                result = Numeral.CadentialSixFour(localMode, target);
                return true;
            case "CTo":
                result = Numeral.CommonToneDiminished(inversion, target);
                return true;
            case "N":
                result = seventh
                    ? new Numeral(2, ChordQuality.MajorSeventh, inversion, -1, target)
                    : Numeral.Neapolitan(digits.Length == 0 ? 1 : inversion, target);
                return true;
        }

        if (!IsRoman(match, out var degree, out var upper)) return false;
        var quality = Quality(rest, upper, seventh, degree, alteration, seventhsOfScale ? localMode : null);
        if (inversion >= quality.Members().Length) return false;
        result = new Numeral(degree, quality, inversion, alteration, target, quality.IsSeventh() && inversion == 0 ? extension : 0);
        return true;
    }

    private static ChordQuality Quality(string rest, bool upper, bool seventh, int degree, int alteration, Mode? scale)
    {
        var major = rest.Contains('M', StringComparison.Ordinal);
        if (rest.Contains('%', StringComparison.Ordinal)) return ChordQuality.HalfDiminishedSeventh;
        if (rest.Contains('o', StringComparison.Ordinal)) return seventh ? ChordQuality.DiminishedSeventh : ChordQuality.Diminished;
        if (rest.Contains('+', StringComparison.Ordinal))
            return !seventh ? ChordQuality.Augmented : major ? ChordQuality.AugmentedMajorSeventh : ChordQuality.AugmentedSeventh;
        if (!seventh) return upper ? ChordQuality.Major : ChordQuality.Minor;
        if (major) return upper ? ChordQuality.MajorSeventh : ChordQuality.MinorMajorSeventh;
        if (!upper) return degree == 7 && scale == Mode.Major ? ChordQuality.HalfDiminishedSeventh : ChordQuality.MinorSeventh;
        if (scale is not { } mode || rest.Contains("d7", StringComparison.Ordinal) || rest.Contains("dom", StringComparison.Ordinal)) return ChordQuality.DominantSeventh;
        var scaleSeventh = (mode == Mode.Major ? degree is 1 or 4 : degree is 3 or 6) && alteration <= 0;
        var flatSeventh = alteration < 0 && (degree == 2 || (mode == Mode.Major && alteration == -1 && degree is 3 or 6));
        return scaleSeventh || flatSeventh ? ChordQuality.MajorSeventh : ChordQuality.DominantSeventh;
    }

    private static string Simplify(string s)
    {
        var text = new StringBuilder();
        foreach (var c in BracketPattern().Replace(s.Trim(), ""))
        {
            text.Append(c switch
            {
                '°' => 'o',
                'ø' or 'Ø' => '%',
                '♭' or '-' or '−' => 'b',
                '♯' => '#',
                >= '₀' and <= '₉' => (char)('0' + (c - '₀')),
                '⁰' => '0',
                '¹' => '1',
                '²' => '2',
                '³' => '3',
                >= '⁴' and <= '⁹' => (char)('4' + (c - '⁴')),
                _ => c,
            });
        }

        return text.Replace("/o", "%").Replace("maj", "M").ToString();
    }

    private static List<string> SplitTargets(string text)
    {
        // A slash before a numeral applies; a slash between digits only separates figures.
        var parts = new List<string>();
        var current = new StringBuilder();
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] != '/') current.Append(text[i]);
            else if (i + 1 == text.Length || !char.IsAsciiDigit(text[i + 1]))
            {
                parts.Add(current.ToString());
                current.Clear();
            }
        }

        parts.Add(current.ToString());
        return parts;
    }

    private static bool IsRoman(Match match, out int degree, out bool upper)
    {
        var name = match.Groups["name"].Value;
        degree = Array.IndexOf(Upper, name) + 1;
        upper = degree > 0;
        if (!upper) degree = Array.IndexOf(Lower, name) + 1;
        return degree > 0;
    }

    private static bool TryAlteration(Match match, out int alteration)
    {
        alteration = 0;
        foreach (var sign in match.Groups["alt"].Value) alteration += sign == '#' ? 1 : -1;
        return Math.Abs(alteration) <= 2;
    }

    /// <summary>The inversion and the presence of a seventh that figures say, as figured bass abbreviates them.</summary>
    private static bool TryFigures(string digits, out int inversion, out bool seventh, out int extension)
    {
        extension = digits switch { "9" or "97" => 9, "11" => 11, "13" => 13, _ => 0 };
        (inversion, seventh) = digits switch
        {
            "" or "5" or "53" or "54" or "4" => (0, false),
            "6" or "63" => (1, false),
            "64" => (2, false),
            "7" or "75" or "753" or "73" or "9" or "97" or "11" or "13" => (0, true),
            "65" or "653" => (1, true),
            "43" or "643" => (2, true),
            "42" or "2" or "642" => (3, true),
            _ => (-1, false),
        };
        if (inversion >= 0) return true;
        inversion = 0;
        seventh = digits.Contains('7', StringComparison.Ordinal) || digits.Contains('9', StringComparison.Ordinal);
        return digits.Length <= 4;
    }

    private static int SixthInversion(ChordQuality sixth, string digits) => (sixth, digits) switch
    {
        (ChordQuality.ItalianSixth, "53" or "5") => 1,
        (ChordQuality.ItalianSixth, "64") => 2,
        (ChordQuality.FrenchSixth, "7") => 1,
        (ChordQuality.FrenchSixth, "42" or "2") => 2,
        (ChordQuality.FrenchSixth, "65") => 3,
        (ChordQuality.GermanSixth, "7") => 1,
        (ChordQuality.GermanSixth, "43") => 2,
        (ChordQuality.GermanSixth, "42" or "2") => 3,
        _ => 0,
    };

    [GeneratedRegex(@"^(?<alt>[#b]*)(?<name>N|Ger|It|Fr|Cad|CTo|VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)(?<rest>.*)$")]
    private static partial Regex HeadPattern();

    [GeneratedRegex(@"^[o%+Md0-9b#]*$|^[o%+]?dom[0-9]*$")]
    private static partial Regex RestPattern();

    [GeneratedRegex(@"\[[^\]]*\]|[{}]")]
    private static partial Regex BracketPattern();
}
