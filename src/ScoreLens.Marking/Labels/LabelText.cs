using System.Text;
using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Reads one text under a chord as a label, in any of the usual ways of writing: key marks (<see cref="KeyMark"/>), raised or
/// stacked figures, slashes, commas or hyphens between figures, signs or letters for quality, names for the Neapolitan, the
/// augmented sixths and the cadential six-four, inversion letters (<c>Ib</c>, <c>V7c</c>), figures that move over one bass
/// (<c>V6-5/4-3</c>), pivots (<c>vi = G: ii</c>). It is strict: what is not understood whole is not read.
/// </summary>
internal static partial class LabelText
{
    /// <summary>What a text says; null where it cannot be read as a label.</summary>
    public static LabelContent? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > 60) return null;
        var plain = Plain(text);
        if (plain.Length == 0) return null;
        var spoken = new List<SpokenChord>();
        foreach (var part in plain.Split('=', StringSplitOptions.TrimEntries))
        {
            Key? key = null;
            var rest = part;
            if (KeyMark.TrySplit(part, out var mark, out var after)) (key, rest) = (mark, after);
            if (rest.Length == 0 && key is not null)
            {
                spoken.Add(new SpokenChord(key, null, null));
                continue;
            }

            if (ReadChord(rest) is not { } chord) return null;
            spoken.Add(chord with { Key = key });
        }

        return new LabelContent(spoken);
    }

    /// <summary>Whether a text consists of figures alone, as they follow a numeral over a held bass (<c>5/3</c>, <c>7</c>).</summary>
    public static bool TryReadFigures(string text, out string figures)
    {
        var plain = Plain(text).Trim('(', ')', '[', ']');
        figures = string.Concat(plain.Where(char.IsAsciiDigit));
        return FiguresOnlyPattern().IsMatch(plain) && new WrittenNumeral("V", figures, "").HasKnownFigures;
    }

    /// <summary>The text with the signs of print made plain, so that one grammar reads them all.</summary>
    public static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (var c in text.Normalize(NormalizationForm.FormC))
        {
            plain.Append(c switch
            {
                >= '₀' and <= '₉' => ((char)('0' + (c - '₀'))).ToString(),
                '¹' => "1",
                '²' => "2",
                '³' => "3",
                >= '⁴' and <= '⁹' => ((char)('4' + (c - '⁴'))).ToString(),
                '⁰' or '°' or 'º' or '˚' or 'ᵒ' or '◦' or '\uE870' => "o",
                'ø' or 'Ø' or '⌀' or '∅' or '\uE871' => "ø",
                '⁺' or '\uE872' => "+",
                '♭' or '\uE260' => "b",
                '♯' or '\uE262' => "#",
                '♮' or '\uE261' => "n",
                '⁻' or '₋' or '−' or '–' or '—' or '‑' or '‐' => "-",
                '→' or '⇒' or '➔' => "->",
                '∕' or '⁄' or '\\' or '／' => "/",
                '△' or 'Δ' or '∆' => "maj",
                >= 'Ⅰ' and <= 'Ⅶ' => ((string[])["I", "II", "III", "IV", "V", "VI", "VII"])[c - 'Ⅰ'],
                >= 'ⅰ' and <= 'ⅶ' => ((string[])["i", "ii", "iii", "iv", "v", "vi", "vii"])[c - 'ⅰ'],
                _ => char.IsWhiteSpace(c) || c is '\u200B' or '\u00A0' ? " " : c.ToString(),
            });
        }

        return SpacesPattern().Replace(plain.ToString(), " ").Trim();
    }

    private static SpokenChord? ReadChord(string text)
    {
        var compact = BracketsPattern().Replace(text, m => m.Value == ")(" ? " " : "");
        compact = OfPattern().Replace(compact, "/");
        compact = ArrowPattern().Replace(compact, "/");
        if (NamedPattern().Match(compact) is { Success: true } named) return ReadNamed(named);
        if (DegreePattern().Match(compact) is not { Success: true } match) return null;
        var roman = match.Groups["roman"].Value;
        var natural = match.Groups["alt"].Value == "n";
        var head = (natural ? "" : match.Groups["alt"].Value) + roman;
        if (Targets(match.Groups["target"].Value) is not { } target) return null;
        var figures = match.Groups["fig"].Value.Trim();
        if (!TryQuality(match.Groups["quality"].Value, ref figures, ref head)) return null;

        if (match.Groups["letter"].Success)
        {
            // The British habit: a, b, c, d for root position and the inversions.
            var inversion = match.Groups["letter"].Value[0] - 'a';
            if (figures is not ("" or "7") || (inversion == 3 && figures != "7")) return null;
            figures = figures == "7" ? ((string[])["7", "65", "43", "42"])[inversion] : ((string[])["", "6", "64", ""])[inversion];
        }

        return WithFigures(head, figures, target, natural);
    }

    private static SpokenChord? WithFigures(string head, string figures, string target, bool natural)
    {
        if (Motion(figures) is { } columns)
        {
            var first = new WrittenNumeral(head, columns[0], target, natural);
            var last = new WrittenNumeral(head, columns[^1], target, natural);
            if (!last.HasKnownFigures) return null;
            if (head is "V" or "v" && columns[0] == "64" && columns.Count == 2)
                return new SpokenChord(null, new WrittenNumeral("Cad", "64", target), last with { Head = "V" });
            // A six-four over a held bass other than the dominant's, or a suspension, decorates the chord that it leaves.
            // So does a sixth that follows the fifth over one bass.
            var leaves = columns.Count > 2 || (first.IsRootPosition && last.Figures == "6");
            return new SpokenChord(null, leaves && first.HasKnownFigures ? first : last, null);
        }

        var digits = string.Concat(FigureSignPattern().Replace(figures, "").Where(char.IsAsciiDigit));
        var written = new WrittenNumeral(head, digits, target, natural);
        return written.HasKnownFigures ? new SpokenChord(null, written, null) : null;
    }

    private static SpokenChord? ReadNamed(Match match)
    {
        if (Targets(match.Groups["target"].Value) is not { } target) return null;
        var name = match.Groups["name"].Value.ToUpperInvariant();
        var digits = string.Concat(match.Groups["fig"].Value.Where(char.IsAsciiDigit));
        var head = name[0] switch { 'I' => "It", 'F' => "Fr", 'G' => "Ger", 'N' => "N", 'K' => "Cad", _ => name.StartsWith("CT", StringComparison.Ordinal) ? "CTo" : "Cad" };
        // A lower-case name without figures is a word that is sung.
        if (digits.Length == 0 && char.IsLower(match.Groups["name"].Value[0])) return null;
        if (head == "Cad")
        {
            if (digits is not ("" or "64")) return null;
            digits = "64";
        }

        if (head is "It" or "Fr" or "Ger" && digits == "6") digits = "";
        var written = new WrittenNumeral(head, digits, target);
        return written.HasKnownFigures ? new SpokenChord(null, written, null) : null;
    }

    /// <summary>The targets after the first slash, each an accidental and a bare degree; null where one is not.</summary>
    private static string? Targets(string text)
    {
        if (text.Length == 0) return "";
        var targets = text.Replace(" ", "", StringComparison.Ordinal);
        return TargetsPattern().IsMatch(targets) ? targets : null;
    }

    /// <summary>Puts a quality mark into the plain form's place after the degree.</summary>
    private static bool TryQuality(string mark, ref string figures, ref string head)
    {
        var word = mark.Replace(" ", "", StringComparison.Ordinal).TrimEnd('.');
        var flatFive = FlatFivePattern().IsMatch(figures);
        var sharpFive = SharpFivePattern().IsMatch(figures);
        if (flatFive || sharpFive) figures = AlteredFivePattern().Replace(figures, "");
        switch (word)
        {
            case "" or "dom":
                if (flatFive) return false;
                if (sharpFive) head += "+";
                return true;
            case "m" or "min" or "mi" or "-":
                if (sharpFive) return false;
                head = Lower(head) + (flatFive ? figures.Contains('7', StringComparison.Ordinal) ? "ø" : "o" : "");
                return true;
            case "o" or "0" or "dim":
                head = Lower(head) + "o";
                return true;
            case "ø" or "/o" or "hd" or "h" or "o/":
                head = Lower(head) + "ø";
                return true;
            case "+" or "aug":
                head += "+";
                return true;
            case "maj" or "M" or "ma" or "Maj":
                head += sharpFive ? "+maj" : "maj";
                return true;
            case "+maj" or "+M":
                head += "+maj";
                return true;
            default:
                return false;
        }

        static string Lower(string h) => h.ToLowerInvariant();
    }

    /// <summary>Figures that move over one bass, a column each (<c>6-5/4-3</c>: 64, 53); null where nothing moves.</summary>
    private static List<string>? Motion(string figures)
    {
        if (!figures.Contains('-', StringComparison.Ordinal)) return null;
        var text = figures.Trim();
        if (StackedColumnsPattern().IsMatch(text))
            return [.. text.Split('-').Select(c => string.Concat(c.Where(char.IsAsciiDigit)))];
        var voices = text.Split(['/', ' ', ',', '|'], StringSplitOptions.RemoveEmptyEntries).Select(v => v.Split('-')).ToList();
        if (voices.Any(v => v.Any(f => f.Length != 1 || !char.IsAsciiDigit(f[0])))) return null;
        var count = voices.Max(v => v.Length);
        if (count < 2) return null;
        var columns = Enumerable.Range(0, count)
            .Select(i => string.Concat(voices.Where(v => v.Length == count || i < v.Length).Select(v => v[i]))).ToList();
        columns[0] = columns[0] switch { "864" or "86" => "64", "54" or "4" or "9" or "94" or "8" => "", var c => c };
        columns[^1] = columns[^1] switch { "3" or "53" or "853" or "83" or "8" or "5" => "", "753" or "73" => "7", var c => c };
        return columns;
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex SpacesPattern();

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
        + @"(?<quality>\+maj|\+M|dim\.?|aug\.?|dom\.?|Maj\.?|maj\.?|min\.?|ma|mi|hd|o/|/o|[oøh+mM0]|-(?=7))?"
        + @"(?<fig>[\s^_]*(?:[b#n]?(?:\d|b5|\#5)\+?(?:[/,.^_|\s-]*[b#n]?\d\+?)*)?[#n]?)(?<letter>[abcd])?\s*(?<target>(?:/\s*[b#]*[IViv]+\s*)*)$")]
    private static partial Regex DegreePattern();

    [GeneratedRegex(@"^(?:/(?:b{1,2}|\#{1,2})?(?:VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i))*$")]
    private static partial Regex TargetsPattern();

    [GeneratedRegex(@"^\d(?:[/,\s-]?\d){0,2}$")]
    private static partial Regex FiguresOnlyPattern();

    [GeneratedRegex(@"b5")]
    private static partial Regex FlatFivePattern();

    [GeneratedRegex(@"\#5")]
    private static partial Regex SharpFivePattern();

    [GeneratedRegex(@"[/,]?[b#]5")]
    private static partial Regex AlteredFivePattern();

    [GeneratedRegex(@"[b#n]3|[b#n+^_]")]
    private static partial Regex FigureSignPattern();

    [GeneratedRegex(@"^\d{2,3}(?:-\d{2,3})+$|^\d(?:/\d){1,2}(?:-\d(?:/\d){1,2})+$")]
    private static partial Regex StackedColumnsPattern();
}

/// <summary>What a label's text says: one chord, or two where it reads a pivot in both keys.</summary>
/// <param name="Chords">The chords said, at least one; a key mark alone is a chord without a numeral.</param>
internal sealed record LabelContent(IReadOnlyList<SpokenChord> Chords)
{
    /// <summary>Whether nothing but a key is said.</summary>
    public bool IsKeyOnly => Chords is [{ Key: not null, Numeral: null }];
}

/// <summary>One chord that a label says.</summary>
/// <param name="Key">The key mark before it, or null.</param>
/// <param name="Numeral">The numeral, or null for a key mark alone.</param>
/// <param name="Then">The chord that follows over the same bass where the label says both (<c>V6-5/4-3</c>), or null.</param>
internal sealed record SpokenChord(Key? Key, WrittenNumeral? Numeral, WrittenNumeral? Then);
