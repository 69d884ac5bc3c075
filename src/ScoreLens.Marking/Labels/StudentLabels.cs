using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>The labels that somebody wrote into a score, read wherever they stand and however they are written.</summary>
/// <param name="Labels">The labels by onset, one an onset.</param>
/// <param name="WritesKeys">Whether any key is written; where none is, the labels were read in the key that was assumed.</param>
internal sealed record StudentLabels(IReadOnlyList<StudentLabel> Labels, bool WritesKeys)
{
    /// <summary>Reads the labels of a score.</summary>
    /// <param name="score">The score; lyric lines, harmony elements and words are looked through.</param>
    /// <param name="assumed">The key that holds until a key is written.</param>
    /// <param name="options">Which notations are allowed, and how much a label may leave open.</param>
    public static StudentLabels Read(Score score, Key assumed, LabelMarking? options = null)
    {
        ArgumentNullException.ThrowIfNull(score);
        options ??= LabelMarking.Default;
        var tokens = LabelTokens.Of(score, options.Notations);
        var writesKeys = tokens.Any(t => t.Content is { } c && c.Chords.Any(s => s.Key is not null));
        var capitals = options.CapitalsByScale && WritesCapitalsOnly(tokens);
        var labels = new List<StudentLabel>();
        var key = assumed;
        WrittenNumeral? before = null;
        foreach (var group in tokens.GroupBy(t => t.Text.Onset).OrderBy(g => g.Key))
        {
            foreach (var mark in group.Select(t => t.Content).OfType<LabelContent>().Where(c => c.IsKeyOnly)) key = mark.Chords[0]
                .Key!.Value;
            var candidates = group.Where(t => t.Content is not { IsKeyOnly: true }).ToList();
            if (candidates.Count == 0) continue;
            if (candidates.Find(t => t.Notation != LabelNotations.Numerals) is { } other && !candidates.Exists(t => t.Content is not null))
            {
                labels.Add(OtherNotation(other, key, options.Notations));
                continue;
            }

            // Where two lines have a label, one that changes the key reads the same chord again in the new key.
            var first = candidates.Find(t => t.Content is { } c && c.Chords[0].Key is null) ?? candidates.Find(t => t.Content is not null)
                ?? candidates[0];
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

    // A chord symbol or a function letter: read where it is allowed, else seen and not understood.
    private static StudentLabel OtherNotation(LabelToken token, Key key, LabelNotations allowed)
    {
        var numeral = !allowed.HasFlag(token.Notation) ? null
            : token.Notation == LabelNotations.Functions ? FunctionText.In(key, token.Text.Text)
            : ChordSymbolText.Read(token.Text.Text) is { } chord ? ChordSymbolText.In(key, chord)
            : null;
        return new StudentLabel(token.Text, numeral is null ? [] : [new LabelMeaning(key, numeral)], [],
            null)
        { Notation = token.Notation };
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

    private static bool WritesCapitalsOnly(IReadOnlyList<LabelToken> tokens)
    {
        var degrees = tokens.Where(t => t.Content is not null).SelectMany(t => t.Content!.Chords).Select(c => c.Numeral)
            .OfType<WrittenNumeral>().Where(n => n.Degree > 0).ToList();
        return degrees.Count >= 4 && degrees.TrueForAll(d => d.IsUpper) && degrees.Exists(d => d.Degree is 2 or 3 or 6 or 7);
    }
}

/// <summary>One label.</summary>
/// <param name="Source">The text and where it stands.</param>
/// <param name="Meanings">What it says, every usual meaning, the likeliest first; empty where it cannot be read.</param>
/// <param name="Then">What it says of the chord that follows over the same bass (<c>V6-5/4-3</c>); mostly empty.</param>
/// <param name="Written">How it was understood; null where it is no numeral that can be read.</param>
internal sealed record StudentLabel(ScoreText Source, IReadOnlyList<LabelMeaning> Meanings, IReadOnlyList<LabelMeaning> Then,
    WrittenNumeral? Written)
{
    /// <summary>The notation that it is written in.</summary>
    public LabelNotations Notation { get; init; } = LabelNotations.Numerals;

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
