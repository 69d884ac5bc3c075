using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// Reads one text under a chord as a label: key marks (<see cref="KeyMark"/>), a numeral in any of the usual ways of writing
/// (<see cref="NumeralGrammar"/>), figures that move over one bass (<c>V6-5/4-3</c>), pivots (<c>vi = G: ii</c>). It is strict: what
/// is not understood whole is not read.
/// </summary>
internal static partial class LabelText
{
    private const int Longest = 60;

    /// <summary>What a text says; null where it cannot be read as a label.</summary>
    public static LabelContent? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > Longest) return null;
        var plain = BracketedKeyPattern().Replace(Trimmed(text), "${key}: ");
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

    /// <summary>
    /// The text in plain signs without what stands around a label: quotation marks, and punctuation behind it (<c>V.</c>, <c>V?</c>).
    /// </summary>
    public static string Trimmed(string text) => NumeralSigns.Plain(text).Trim('"', '“', '”', '\'').TrimEnd('.', '!', '?', ',', ';').Trim();

    /// <summary>Whether a text consists of figures alone, as they follow a numeral over a held bass (<c>5/3</c>, <c>7</c>).</summary>
    public static bool TryReadFigures(string text, out string figures)
    {
        var plain = NumeralSigns.Plain(text).Trim('(', ')', '[', ']');
        figures = string.Concat(plain.Where(char.IsAsciiDigit));
        return FiguresOnlyPattern().IsMatch(plain) && new WrittenNumeral(0, "V", NumeralMark.None, figures, null).HasKnownFigures;
    }

    private static SpokenChord? ReadChord(string text)
    {
        if (NumeralGrammar.Read(text, NumeralStyle.Handwritten, out var figures) is not { } written) return null;
        if (written.Degree > 0 && Motion(figures) is { } columns) return Moving(written, columns);
        return written.HasKnownFigures ? new SpokenChord(null, written, null) : null;
    }

    private static SpokenChord? Moving(WrittenNumeral written, List<string> columns)
    {
        var (first, last) = (written with { Figures = columns[0] }, written with { Figures = columns[^1] });
        if (!last.HasKnownFigures) return null;
        if (written.IsPlainDominant && columns is ["64", _])
            return new SpokenChord(null, WrittenNumeral.CadentialSixFour(written.Target), last with { Name = "V" });
        // A six-four over a held bass other than the dominant's, or a suspension, decorates the chord that it leaves.
        // So does a sixth that follows the fifth over one bass.
        var leaves = columns.Count > 2 || (first.IsRootPosition && last.Figures == "6");
        return new SpokenChord(null, leaves && first.HasKnownFigures ? first : last, null);
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

    // A key in brackets before a numeral: [G] I.
    [GeneratedRegex(@"^[\[(]\s*(?<key>[A-Ha-h](?:bb|##|b|\#)?\s*(?:(?i:major|minor|maj|min|dur|moll)\.?|m|M)?):?\s*[\])]\s*(?=\S)")]
    private static partial Regex BracketedKeyPattern();

    [GeneratedRegex(@"^\d(?:[/,\s-]?\d){0,2}$")]
    private static partial Regex FiguresOnlyPattern();

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
