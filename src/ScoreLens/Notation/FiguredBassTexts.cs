using System.Text;
using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>Finds the figures of a figured bass: as figured-bass elements, else as lyrics under the lowest staff, else as words
/// there.</summary>
internal static class FiguredBassTexts
{
    // A number among words may be anything; several are figures.
    private const int FewestTyped = 3;

    // A line of extension.
    private const string Line = "_";

    /// <summary>The figures by onset; empty where there are none.</summary>
    public static IReadOnlyList<ScoreText> Of(Score score)
    {
        var written = score.Texts.Where(t => t.Kind == ScoreTextKind.FiguredBass).ToList();
        if (written.Count > 0) return written;
        var typed = score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line))
            .OrderByDescending(g => g.Key).FirstOrDefault(g => g.All(t => Plain(t.Text) is not null) && g.Any(t => HasNumber(t.Text)));
        if (typed is null)
        {
            var words = score.Texts.Where(t => t.Kind == ScoreTextKind.Words && !t.IsOwn && Plain(t.Text) is not null)
                .GroupBy(t => (t.Part, t.Staff)).OrderByDescending(g => g.Key).FirstOrDefault();
            return words is null || words.Count(t => HasNumber(t.Text)) < FewestTyped ? []
                : [.. words.Select(t => t with { Kind = ScoreTextKind.FiguredBass, Text = Plain(t.Text)! })];
        }

        return [.. typed.Select(t => t with { Kind = ScoreTextKind.FiguredBass, Text = Plain(t.Text)! })];
    }

    private static bool HasNumber(string text) => text.Any(char.IsAsciiDigit) || NumeralSigns.Plain(text).Any(char.IsAsciiDigit)
        || NumeralSigns.Plain(text) is "#" or "b" or "n";

    // 65 and 6/5 are the figures 6 5; 4-3 is one after the other; a dash or a low line alone is a line of extension. A stroke behind a
    // number raises it. Null for what holds anything else.
    private static string? Plain(string text)
    {
        var stages = NumeralSigns.Plain(text).Trim('(', ')').Split('-', StringSplitOptions.TrimEntries);
        if (stages.All(s => s.Length == 0)) return stages.Length > 1 ? Line : null;
        var read = stages.Select(s => s.Length == 0 ? Line : Stage(s)).ToArray();
        return read.Any(s => s is null) ? null : string.Join('-', read);
    }

    private static string? Stage(string plain)
    {
        if (plain.All(c => c == '_')) return Line;
        if (plain.Any(c => !char.IsAsciiDigit(c) && c is not ('#' or 'b' or 'n' or '+' or '/' or ' ' or ',' or '_'))) return null;
        var figures = new StringBuilder();
        for (var i = 0; i < plain.Length; i++)
        {
            if (i > 0 && char.IsAsciiDigit(plain[i]) && char.IsAsciiDigit(plain[i - 1])) figures.Append(' ');
            var isStroke = plain[i] == '/' && i > 0 && char.IsAsciiDigit(plain[i - 1]) && (i + 1 == plain.Length || plain[i + 1] == ' ');
            figures.Append(isStroke ? '+' : plain[i] is '/' or ',' ? ' ' : plain[i]);
        }

        var read = figures.ToString();
        return Figures.Parse(read.Replace(Line, "", StringComparison.Ordinal)) is null ? null : read;
    }
}
