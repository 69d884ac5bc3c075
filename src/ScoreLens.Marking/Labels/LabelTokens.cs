using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>A text that is taken for a label, and what it says if it is a numeral that can be read.</summary>
/// <param name="Text">The text.</param>
/// <param name="Content">What it says as a numeral or a key; null where it says neither.</param>
/// <param name="Notation">The notation of its line.</param>
internal sealed record LabelToken(ScoreText Text, LabelContent? Content, LabelNotations Notation = LabelNotations.Numerals);

/// <summary>
/// Finds the texts of a score that are meant as labels: lines of lyrics that are hardly verses, numerals in harmony elements, and
/// words among which numerals stand. What stands between labels and is none (<c>?</c>) is taken for a label that cannot be read.
/// </summary>
internal static class LabelTokens
{
    // A line of verses holds hardly a syllable that could be a label; a line of labels, hardly a word that could not.
    private const double LabelShare = 0.6;

    // Numerals that are words in some language: alone they prove nothing.
    private static readonly HashSet<string> SungWords = ["I", "i", "vi", "v", "V"];

    /// <summary>The labels of a score.</summary>
    /// <param name="score">The score.</param>
    /// <param name="allowed">Notations that are allowed; chord symbols of the score itself count where they are.</param>
    public static IReadOnlyList<LabelToken> Of(Score score, LabelNotations allowed)
    {
        var tokens = new List<LabelToken>();
        foreach (var line in score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line, t.LineName)))
        {
            var read = Tokens(line);
            var notation = NotationOf(read);
            if (notation == LabelNotations.Numerals) tokens.AddRange(read);
            else if (notation != LabelNotations.None) tokens.AddRange(read.Select(t => IsColonKey(t) ? t
                : new LabelToken(t.Text, null, notation)));
            else tokens.AddRange(read.Where(IsColonKey));
        }

        tokens.AddRange(Tokens(score.Texts.Where(t => t.Kind == ScoreTextKind.Numeral)));
        foreach (var words in score.Texts.Where(t => t.Kind == ScoreTextKind.Words).GroupBy(t => (t.Part, t.Staff)))
        {
            var read = Tokens(words);
            var numerals = read.Where(t => t.Content is { IsKeyOnly: false }).ToList();
            var proven = numerals.Count >= 3 || numerals.Exists(IsProof);
            tokens.AddRange(read.Where(t => t.Content is { IsKeyOnly: true }
                || (proven && (t.Content is not null || LooksLikeNumeral(t.Text.Text) || IsPlaceholder(t.Text.Text)))));
        }

        if (allowed.HasFlag(LabelNotations.ChordSymbols)) tokens.AddRange(Symbols(score));
        return tokens;
    }

    private static IEnumerable<LabelToken> Symbols(Score score) =>
        from symbol in score.ChordSymbols
        where symbol.Root is not null && symbol.Upper is null && symbol.Tones.Count > 2
        let quality = Enum.GetValues<ChordQuality>().Where(q => !q.IsAugmentedSixth()).Cast<ChordQuality?>()
            .FirstOrDefault(q => Tones(symbol.Root!.Value, q!.Value).SetEquals(symbol.Tones))
        where quality is not null
        let name = new ChordName(symbol.Root!.Value, quality.Value, symbol.Bass)
        select new LabelToken(new ScoreText(symbol.Onset, symbol.Part, 1, ScoreTextKind.Words, name.ToString()), null,
            LabelNotations.ChordSymbols);

    private static HashSet<Tone> Tones(Tone root, ChordQuality quality) => [.. quality.Members().ToArray().Select(m => root + m)];

    private static List<LabelToken> Tokens(IEnumerable<ScoreText> texts) =>
        [.. texts.Where(t => !IsHold(t.Text)).Select(t => new LabelToken(t, LabelText.Read(t.Text)))];

    /// <summary>The notation of a line; none where it is a verse.</summary>
    private static LabelNotations NotationOf(List<LabelToken> tokens)
    {
        var words = tokens.Where(t => !IsPlaceholder(t.Text.Text)).ToList();
        var readable = words.Where(t => t.Content is not null).ToList();
        var figures = words.Count(t => t.Content is null && readable.Count > 0 && LabelText.TryReadFigures(t.Text.Text, out _));
        if (readable.Count > 0 && readable.Count + figures >= LabelShare * words.Count)
            return readable.Count >= 3 || readable.Exists(IsProof) ? LabelNotations.Numerals : LabelNotations.None;
        var others = words.Where(t => t.Content is not { IsKeyOnly: true }).Select(t => t.Text.Text).ToList();
        if (others.Count < 3) return LabelNotations.None;
        if (others.Count(FunctionText.IsFunction) >= LabelShare * others.Count && others.Exists(o => o is ['T' or 'S' or 't' or 's', ..]))
            return LabelNotations.Functions;
        return others.Count(o => ChordSymbolText.Read(o) is not null) >= LabelShare * others.Count ? LabelNotations.ChordSymbols
            : LabelNotations.None;
    }

    private static bool IsProof(LabelToken token) => !SungWords.Contains(LabelText.Trimmed(token.Text.Text));

    private static bool IsColonKey(LabelToken token) =>
        token.Content is { IsKeyOnly: true } && token.Text.Text.Contains(':', StringComparison.Ordinal);

    // A sign in place of a label: the student did not know.
    private static bool IsPlaceholder(string text) => text.All(c => c is '?' or '!' or ' ' or '(' or ')');

    private static bool IsHold(string text) => text.All(c => c is '-' or '–' or '—' or '_' or '.' or ' ' or '|' or '*');

    private static bool LooksLikeNumeral(string text)
    {
        var plain = NumeralSigns.Plain(text).TrimStart('b', '#', '(', '[');
        return plain.Length is > 1 and <= 12 && plain[0] is 'I' or 'V' or 'i' or 'v'
            && plain.Any(c => char.IsAsciiDigit(c) || c is '/' or 'o' or 'ø') && !plain.Contains(' ', StringComparison.Ordinal);
    }
}
