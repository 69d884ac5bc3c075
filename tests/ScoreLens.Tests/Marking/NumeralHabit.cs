using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Marking;

/// <summary>A way in which students write numerals, to write a reading into a score and see whether it is read back.</summary>
/// <param name="Name">What the habit is called in test names.</param>
/// <param name="Kind">What carries the labels.</param>
/// <param name="WriteKey">How a key is written.</param>
/// <param name="WriteNumeral">How a numeral is written in a key.</param>
/// <param name="KeyApart">Whether the key is a text of its own.</param>
internal sealed record NumeralHabit(
    string Name, ScoreTextKind Kind, Func<Key, string> WriteKey, Func<Key, Numeral, string> WriteNumeral, bool KeyApart)
{
    public static IReadOnlyList<NumeralHabit> All { get; } =
    [
        new("plain text in a lyric line", ScoreTextKind.Lyric, k => $"{k}:", (_, n) => n.ToString(), false),
        new("raised figures as words, keys apart", ScoreTextKind.Words, ShortKey, (_, n) => n.ToDisplayString(), true),
        new("stacked figures under verses", ScoreTextKind.Lyric, k => ShortKey(k).Replace('b', '♭').Replace('#', '♯'), (_, n) =>
            Stacked(n), false),
        new("the scale's sevenths and names, as harmony", ScoreTextKind.Numeral, k =>
            $"{k.Tonic.Letter}{Sign(k)} {(k.IsMinor ? "min." : "maj.")}:", ByScale, true),
        new("inversion letters", ScoreTextKind.Lyric, k => k.IsMinor ? $"{k.Tonic}m:" : $"{k.Tonic}:", (_, n) => Letters(n), false),
    ];

    /// <summary>The texts that write chords in this habit; the onset of each is its chord's.</summary>
    public IEnumerable<ScoreText> Write(IEnumerable<ChordReading> chords)
    {
        Key? key = null;
        foreach (var chord in chords)
        {
            var text = WriteNumeral(chord.Key, chord.Numeral!);
            var keyText = chord.Key == key ? null : WriteKey(chord.Key);
            key = chord.Key;
            if (keyText is not null && KeyApart) yield return Text(chord.Onset, keyText);
            yield return Text(chord.Onset, keyText is null || KeyApart ? text : $"{keyText} {text}");
        }

        ScoreText Text(Fraction onset, string text) => new(onset, 0, 1, Kind, text, Kind == ScoreTextKind.Lyric ? "2" : "");
    }

    public override string ToString() => Name;

    private static string ShortKey(Key key) =>
        (key.IsMinor ? char.ToLowerInvariant(key.Tonic.Letter) : key.Tonic.Letter) + Sign(key) + ":";

    private static string Sign(Key key) => key.Tonic.ToString()[1..];

    private static string Stacked(Numeral numeral)
    {
        var text = numeral.Kind == NumeralKind.CadentialSixFour ? "I64" + (numeral.Target is null ? "" : "/" + numeral.Target)
            : numeral.ToString();
        if (numeral.Kind == NumeralKind.CadentialSixFour && numeral.Quality == ChordQuality.Minor) text = "i" + text[1..];
        var slash = text.IndexOf('/', StringComparison.Ordinal);
        var head = slash < 0 ? text : text[..slash];
        var digits = string.Concat(head.Where(char.IsAsciiDigit));
        var stacked = digits is "65" or "43" or "42" or "64" ? $"{digits[0]}/{digits[1]}" : digits;
        return head[..(head.Length - digits.Length)].Replace('o', '°') + stacked + (slash < 0 ? "" : text[slash..]);
    }

    private static string ByScale(Key key, Numeral numeral)
    {
        if (numeral is { Kind: NumeralKind.AugmentedSixth, Inversion: 0 })
        {
            var name = numeral.Quality switch { ChordQuality.ItalianSixth => "It+6", ChordQuality.FrenchSixth => "Fr+6", _ => "Ger+6" };
            return numeral.Target is null ? name : $"{name}/{numeral.Target}";
        }

        var text = numeral.ToString();
        if (text.StartsWith("N6", StringComparison.Ordinal)) return "bII6" + text[2..];
        // The major seventh of I and IV in major, of III and VI in minor, goes without saying.
        var mode = numeral.Target?.Mode ?? key.Mode;
        var bare = numeral is { Quality: ChordQuality.MajorSeventh, Alteration: 0 }
            && (mode == Mode.Major ? numeral.Degree is 1 or 4 : numeral.Degree is 3 or 6);
        return bare ? text.Replace("maj", "", StringComparison.Ordinal) : text;
    }

    private static string Letters(Numeral numeral)
    {
        if (numeral.Kind == NumeralKind.AugmentedSixth || numeral.Extension != 0) return numeral.ToString();
        var (head, target) = (numeral.ToString(), numeral.Target is null ? "" : "/" + numeral.Target);
        if (numeral.Kind == NumeralKind.CommonToneDiminished) return head;
        if (numeral.Kind == NumeralKind.CadentialSixFour) return (numeral.Quality == ChordQuality.Minor ? "ic" : "Ic") + target;
        if (head.StartsWith("N6", StringComparison.Ordinal)) return "bIIb" + target;
        head = head[..(head.Length - target.Length)].TrimEnd('2', '3', '4', '5', '6', '7');
        return head + (numeral.Quality.IsSeventh() ? "7" : "") + ((string[])["", "b", "c", "d"])[numeral.Inversion] + target;
    }
}
