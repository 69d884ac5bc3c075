using System.Text;
using ScoreLens.Theory;

namespace ScoreLens.Notation;

/// <summary>Finds the figures of a figured bass: as figured-bass elements, else as lyrics under the lowest staff, else as words
/// there.</summary>
internal static class FiguredBassTexts
{
    // A number among words may be anything; several are figures.
    private const int FewestTyped = 3;

    /// <summary>The figures by onset; empty where there are none.</summary>
    public static IReadOnlyList<ScoreText> Of(Score score)
    {
        var written = score.Texts.Where(t => t.Kind == ScoreTextKind.FiguredBass).ToList();
        if (written.Count > 0) return written;
        var typed = score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line))
            .OrderByDescending(g => g.Key).FirstOrDefault(g =>
                g.All(t => Plain(t.Text) is { } figures && Figures.Parse(figures) is not null));
        if (typed is null)
        {
            var words = score.Texts.Where(t => t.Kind == ScoreTextKind.Words && !t.IsOwn && Plain(t.Text) is { } figures
                && Figures.Parse(figures) is not null)
                .GroupBy(t => (t.Part, t.Staff)).OrderByDescending(g => g.Key).FirstOrDefault();
            return words is null || words.Count() < FewestTyped ? []
                : [.. words.Select(t => t with { Kind = ScoreTextKind.FiguredBass, Text = Plain(t.Text)! })];
        }

        return [.. typed.Select(t => t with { Kind = ScoreTextKind.FiguredBass, Text = Plain(t.Text)! })];
    }

    // 65, 6/5, 6-5 side by side are the figures 6 5; null for what holds a letter other than the signs.
    private static string? Plain(string text)
    {
        var plain = NumeralSigns.Plain(text).Trim('(', ')');
        if (plain.Length == 0 || plain.Any(c => !char.IsAsciiDigit(c)
            && c is not ('#' or 'b' or 'n' or '+' or '/' or ' ' or ','))) return null;
        var figures = new StringBuilder();
        for (var i = 0; i < plain.Length; i++)
        {
            if (i > 0 && char.IsAsciiDigit(plain[i]) && char.IsAsciiDigit(plain[i - 1])) figures.Append(' ');
            figures.Append(plain[i] is '/' or ',' ? ' ' : plain[i]);
        }

        return figures.ToString();
    }
}
