using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>The Roman numerals that somebody wrote into a score, read wherever they stand and however they are written.</summary>
/// <param name="Labels">The labels by onset, one an onset.</param>
/// <param name="WritesKeys">Whether any key is written; where none is, the labels were read in the key that was assumed.</param>
internal sealed record StudentLabels(IReadOnlyList<StudentLabel> Labels, bool WritesKeys)
{
    // A line of verses holds hardly a syllable that could be a numeral; a line of numerals, hardly one that could not.
    private const double NumeralShare = 0.6;

    // Numerals that are words in some language: alone they prove nothing.
    private static readonly HashSet<string> SungWords = ["I", "i", "vi", "v", "V"];

    /// <summary>Reads the labels of a score.</summary>
    /// <param name="score">The score; lyric lines, harmony elements and words are looked through.</param>
    /// <param name="assumed">The key that holds until a key is written.</param>
    public static StudentLabels Read(Score score, Key assumed)
    {
        ArgumentNullException.ThrowIfNull(score);
        var tokens = Collect(score);
        var writesKeys = tokens.Any(t => t.Content is { } c && c.Chords.Any(s => s.Key is not null));
        var capitals = WritesCapitalsOnly(tokens);
        var labels = new List<StudentLabel>();
        var key = assumed;
        WrittenNumeral? before = null;
        var groups = tokens.GroupBy(t => t.Text.Onset).OrderBy(g => g.Key).ToList();
        foreach (var group in groups)
        {
            foreach (var mark in group.Select(t => t.Content).OfType<LabelContent>().Where(c => c.IsKeyOnly)) key = mark.Chords[0].Key!.Value;
            var candidates = group.Where(t => t.Content is not { IsKeyOnly: true }).ToList();
            if (candidates.Count == 0) continue;
            // Where two lines have a label, one that changes the key reads the same chord again in the new key.
            var first = candidates.Find(t => t.Content is { } c && c.Chords[0].Key is null) ?? candidates.Find(t => t.Content is not null) ?? candidates[0];
            var pivot = candidates.Find(t => t != first && t.Content is { } c && c.Chords[0].Key is not null);
            var content = first.Content ?? (before is null ? null : FollowingFigures(first.Text.Text, before));
            if (content is null)
            {
                labels.Add(new StudentLabel(first.Text, [], [], null));
                continue;
            }

            var said = content.Chords.Concat(pivot?.Content?.Chords ?? []).ToList();
            var meanings = new List<LabelMeaning>();
            var then = new List<LabelMeaning>();
            WrittenNumeral? written = null;
            foreach (var chord in said)
            {
                if (chord.Key is { } mark) key = mark;
                if (chord.Numeral is null) continue;
                written = chord.Then ?? chord.Numeral;
                AddMeanings(meanings, chord.Numeral, key, capitals);
                if (chord.Then is { } next) AddMeanings(then, next, key, capitals);
            }

            if (written is null) continue;
            before = written;
            labels.Add(new StudentLabel(first.Text, meanings, then, written));
        }

        return new StudentLabels(WithCadentialReadings(labels), writesKeys);
    }

    private static void AddMeanings(List<LabelMeaning> meanings, WrittenNumeral written, Key key, bool capitals)
    {
        foreach (var numeral in written.In(key)) meanings.Add(new LabelMeaning(key, numeral));
        if (capitals && written.InCapitals(key) is { } byScale) meanings.Add(new LabelMeaning(key, byScale));
    }

    private static LabelContent? FollowingFigures(string text, WrittenNumeral before)
    {
        if (!LabelText.TryReadFigures(text, out var figures)) return null;
        var name = before.Name == "Cad" ? "V" : before.Name;
        return new LabelContent([new SpokenChord(null, before with { Name = name, Figures = figures }, null)]);
    }

    // V64 before V over the same bass is the cadential six-four in the figures of its bass.
    private static List<StudentLabel> WithCadentialReadings(List<StudentLabel> labels)
    {
        for (var i = 0; i + 1 < labels.Count; i++)
        {
            if (labels[i].Written is not { IsPlainDominant: true, Figures: "64" } six
                || labels[i + 1].Written is not { IsPlainDominant: true, IsRootPosition: true } five || five.Target != six.Target) continue;
            var cadential = labels[i].Meanings.Select(m => m.Key).Distinct()
                .SelectMany(k => WrittenNumeral.CadentialSixFour(six.Target).In(k).Select(n => new LabelMeaning(k, n)));
            labels[i] = labels[i] with { Meanings = [.. labels[i].Meanings, .. cadential] };
        }

        return labels;
    }

    private static bool WritesCapitalsOnly(List<Token> tokens)
    {
        var degrees = tokens.Where(t => t.Content is not null).SelectMany(t => t.Content!.Chords).Select(c => c.Numeral)
            .OfType<WrittenNumeral>().Where(n => n.Degree > 0).ToList();
        return degrees.Count >= 4 && degrees.TrueForAll(d => d.IsUpper) && degrees.Exists(d => d.Degree is 2 or 3 or 6 or 7);
    }

    private static List<Token> Collect(Score score)
    {
        var tokens = new List<Token>();
        foreach (var line in score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff, t.Line, t.LineName)))
        {
            var read = Tokens(line);
            if (IsNumeralLine(read)) tokens.AddRange(read);
            else tokens.AddRange(read.Where(t => IsColonKey(t)));
        }

        tokens.AddRange(Tokens(score.Texts.Where(t => t.Kind == ScoreTextKind.Numeral)));
        foreach (var words in score.Texts.Where(t => t.Kind == ScoreTextKind.Words).GroupBy(t => (t.Part, t.Staff)))
        {
            var read = Tokens(words);
            var numerals = read.Where(t => t.Content is { IsKeyOnly: false }).ToList();
            var proven = numerals.Count >= 3 || numerals.Any(t => !SungWords.Contains(t.Text.Text));
            tokens.AddRange(read.Where(t => t.Content is { IsKeyOnly: true } || (proven && (t.Content is not null || LooksLikeNumeral(t.Text.Text)))));
        }

        return tokens;
    }

    private static List<Token> Tokens(IEnumerable<ScoreText> texts) =>
        [.. texts.Where(t => !IsHold(t.Text)).Select(t => new Token(t, LabelText.Read(t.Text)))];

    private static bool IsNumeralLine(List<Token> tokens)
    {
        var readable = tokens.Where(t => t.Content is not null).ToList();
        var figures = tokens.Count(t => t.Content is null && readable.Count > 0 && LabelText.TryReadFigures(t.Text.Text, out _));
        if (readable.Count == 0 || readable.Count + figures < NumeralShare * tokens.Count) return false;
        return readable.Count >= 3 || readable.Any(t => !SungWords.Contains(t.Text.Text));
    }

    private static bool IsColonKey(Token token) => token.Content is { IsKeyOnly: true } && token.Text.Text.Contains(':', StringComparison.Ordinal);

    private static bool IsHold(string text) => text.All(c => c is '-' or '–' or '—' or '_' or '.' or ' ' or '|' or '*');

    private static bool LooksLikeNumeral(string text)
    {
        var plain = NumeralSigns.Plain(text).TrimStart('b', '#', '(', '[');
        return plain.Length <= 12 && plain.Length > 1 && plain[0] is 'I' or 'V' or 'i' or 'v' && plain.Any(c => char.IsAsciiDigit(c) || c is '/' or 'o' or 'ø')
            && !plain.Contains(' ', StringComparison.Ordinal);
    }

    private sealed record Token(ScoreText Text, LabelContent? Content);
}

/// <summary>One label.</summary>
/// <param name="Source">The text and where it stands.</param>
/// <param name="Meanings">What it says, every usual meaning, the likeliest first; empty where it cannot be read.</param>
/// <param name="Then">What it says of the chord that follows over the same bass (<c>V6-5/4-3</c>); mostly empty.</param>
/// <param name="Written">How it was understood, or null where it cannot be read.</param>
internal sealed record StudentLabel(ScoreText Source, IReadOnlyList<LabelMeaning> Meanings, IReadOnlyList<LabelMeaning> Then, WrittenNumeral? Written)
{
    /// <summary>Where it stands, in quarter notes from the start of the score.</summary>
    public Fraction Onset => Source.Onset;

    /// <summary>The text as the student wrote it.</summary>
    public string Text => Source.Text;

    /// <summary>Whether it could be read.</summary>
    public bool IsReadable => Meanings.Count > 0;
}

/// <summary>A numeral in a key, as a label may mean it.</summary>
/// <param name="Key">The key in force.</param>
/// <param name="Numeral">The numeral.</param>
internal sealed record LabelMeaning(Key Key, Numeral Numeral)
{
    /// <summary>The name of the tone in the bass, with printed signs.</summary>
    public string BassName() => Numeral.Bass(Key).ToDisplayString();

    /// <summary>The form for scores with its key: <c>V⁶₅/V in C major</c>.</summary>
    public string Display() => $"{Numeral.ToDisplayString()} in {Key}";

    /// <summary><c>V65/V in C major</c>.</summary>
    public override string ToString() => $"{Numeral} in {Key}";
}
