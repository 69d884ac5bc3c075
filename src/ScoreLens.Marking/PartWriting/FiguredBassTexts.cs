using ScoreLens.Notation;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Finds the figures of a figured bass: as figured-bass elements, else as lyrics under the lowest staff.</summary>
internal static class FiguredBassTexts
{
    /// <summary>The figures by onset; empty where there are none.</summary>
    public static IReadOnlyList<ScoreText> Of(Score score)
    {
        var written = score.Texts.Where(t => t.Kind == ScoreTextKind.FiguredBass).ToList();
        if (written.Count > 0) return written;
        var typed = score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line))
            .OrderByDescending(g => g.Key).FirstOrDefault(g =>
                g.All(t => Plain(t.Text) is { } figures && Figures.Parse(figures) is not null));
        return typed is null ? [] : [.. typed.Select(t => t with { Kind = ScoreTextKind.FiguredBass, Text = Plain(t.Text)! })];
    }

    // 65, 6/5, 6-5 side by side are the figures 6 5; null for what holds a letter other than the signs.
    private static string? Plain(string text)
    {
        var plain = Theory.NumeralSigns.Plain(text).Trim('(', ')');
        if (plain.Length == 0 || plain.Any(c => !char.IsAsciiDigit(c)
            && c is not ('#' or 'b' or 'n' or '+' or '/' or ' ' or ','))) return null;
        var figures = new System.Text.StringBuilder();
        for (var i = 0; i < plain.Length; i++)
        {
            if (i > 0 && char.IsAsciiDigit(plain[i]) && char.IsAsciiDigit(plain[i - 1])) figures.Append(' ');
            figures.Append(plain[i] is '/' or ',' ? ' ' : plain[i]);
        }

        return figures.ToString();
    }
}
