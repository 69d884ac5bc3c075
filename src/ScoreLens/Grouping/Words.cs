using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Grouping;

/// <summary>What the sung words say of a place.</summary>
internal enum Wording
{
    /// <summary>Nothing is sung.</summary>
    None,

    /// <summary>A note without a syllable: the one before is sung on.</summary>
    Melisma,

    /// <summary>A syllable that nothing sets apart from the one before.</summary>
    Syllable,

    /// <summary>After a comma, or with a capital letter that may begin a line of verse.</summary>
    NewLine,

    /// <summary>After a mark that ends a sentence or clause, or after a comma with a capital letter.</summary>
    NewSentence,
}

/// <summary>The words under each staff. Lines of analysis are not words.</summary>
internal sealed class Words
{
    private static readonly char[] Quotes = ['"', '\'', '”', '“', '„', '»', '«', '’', '‘', '(', ')', ' ', '\u00a0'];

    private readonly Dictionary<(int Part, int Staff), Dictionary<Fraction, Wording>> _at = [];

    private Words()
    {
    }

    /// <summary>The staves with words.</summary>
    public IReadOnlySet<(int Part, int Staff)> SungStaves => _at.Keys.ToHashSet();

    /// <summary>The words of a score.</summary>
    public static Words Of(Score score)
    {
        var words = new Words();
        foreach (var staff in score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric).GroupBy(t => (t.Part, t.Staff)))
        {
            foreach (var line in staff.GroupBy(t => (t.Line, t.LineName)).OrderBy(g => g.Key.Line, StringComparer.Ordinal))
            {
                var syllables = line.OrderBy(t => t.Onset).ToList();
                if (syllables.Count(s => IsWord(s.Text)) * 2 < syllables.Count) continue;
                if (!words._at.TryGetValue(staff.Key, out var known)) words._at[staff.Key] = known = [];
                Read(syllables, known);
            }
        }

        return words;
    }

    /// <summary>What the words of a staff say of a time at which one of its notes begins.</summary>
    public Wording At(int part, int staff, Fraction onset) =>
        _at.TryGetValue((part, staff), out var known) ? known.GetValueOrDefault(onset, Wording.Melisma) : Wording.None;

    private static bool IsWord(string text) => text.Count(char.IsLetter) >= 2 && !Numeral.TryParse(text, null, out _);

    // Later verses fill only the places where the first one is silent.
    private static void Read(List<ScoreText> syllables, Dictionary<Fraction, Wording> known)
    {
        var end = '.';
        foreach (var syllable in syllables)
        {
            var text = syllable.Text.Trim(Quotes);
            if (text.Length == 0) continue;
            var capital = char.IsUpper(text[0]);
            known.TryAdd(syllable.Onset, end switch
            {
                '.' or '!' or '?' or ';' or ':' or '…' => Wording.NewSentence,
                ',' or '–' or '—' => capital ? Wording.NewSentence : Wording.NewLine,
                _ => capital ? Wording.NewLine : Wording.Syllable,
            });
            end = text[^1];
        }
    }
}
