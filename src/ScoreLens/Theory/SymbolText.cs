using System.Globalization;
using System.Text.RegularExpressions;

namespace ScoreLens.Theory;

/// <summary>
/// Reads chord symbols in the spellings that lead sheets, charts and hymn books use for one and the same chord: <c>Cmaj7</c>, <c>CM7</c>,
/// <c>C△7</c>; <c>Am7</c>, <c>Amin7</c>, <c>A-7</c>; <c>Bø7</c>, <c>Bm7b5</c>, <c>B-7(b5)</c>; <c>G7sus</c>, <c>E7(b9,#5)</c>, <c>C6/9</c>; polychords as
/// <c>D|C7</c>, <c>D/C7</c>.
/// Strict: what is not understood whole is no chord symbol.
/// </summary>
internal static partial class SymbolText
{
    private const int Longest = 24;

    /// <summary>The chord; null where the text is no chord symbol.</summary>
    public static WrittenChord? Read(string text)
    {
        if (text.Length is 0 or > Longest) return null;
        var plain = Plain(text);
        return One(plain) ?? Polychord(plain);
    }

    // One chord over another: an upright line between them, or a stroke before a chord with a quality, which no bass has.
    private static WrittenChord? Polychord(string text)
    {
        var at = text.IndexOf('|', StringComparison.Ordinal);
        if (at < 0) at = text.LastIndexOf('/');
        if (at <= 0 || One(text[..at]) is not { } upper || One(text[(at + 1)..]) is not { } lower) return null;
        return WrittenChord.Over(upper, lower);
    }

    private static WrittenChord? One(string text)
    {
        if (Pattern().Match(text) is not { Success: true } match) return null;
        if (!Tone.TryParse(match.Groups["root"].Value, null, out var root)) return null;
        Tone? bass = null;
        if (match.Groups["bass"].Success)
        {
            if (!Tone.TryParse(match.Groups["bass"].Value, null, out var low)) return null;
            bass = low;
        }

        return Members(match.Groups["rest"].Value) is { } members
            && members.All(m => root.Fifths + m is >= Tone.MinFifths and <= Tone.MaxFifths)
            ? new WrittenChord(root, members.Select(m => root + m), bass)
            : null;
    }

    /// <summary>Whether a text says that no chord is played: <c>N.C.</c></summary>
    public static bool IsNoChord(string text) => NoChordPattern().IsMatch(text.Trim());

    /// <summary>The members in fifths above the root that the text after a root says; null where it is not understood.</summary>
    public static IReadOnlyList<int>? Members(string text)
    {
        var spelled = new Spelled();
        for (var at = 0; at < text.Length;)
        {
            // Brackets and commas only part what they stand between.
            if (text[at] is '(' or ')' or '[' or ']' or ',')
            {
                at++;
                continue;
            }

            if (TokenPattern().Match(text, at) is not { Success: true, Length: > 0 } token || token.Index != at
                || !spelled.Take(token, isFirst: at == 0)) return null;
            at += token.Length;
        }

        return spelled.Members();
    }

    private static string Plain(string text) => IgnoredPattern().Replace(text, "")
        .Replace('\u266d', 'b').Replace('\u266f', '#').Replace('\u2212', '-').Replace('\u2013', '-')
        .Replace('\u00b0', 'o').Replace('\u00ba', 'o').Replace('\u00d8', '\u00f8')
        .Replace('\u0394', '\u25b3').Replace('\u2206', '\u25b3');

    /// <summary>What has been read after the root so far.</summary>
    private sealed class Spelled
    {
        private readonly List<(int Degree, int Alter)> _altered = [];
        private readonly List<int> _omitted = [];
        private int? _third = 4;
        private int _fifth = 1;
        private int? _seventh;
        private int _figure;
        private bool _isMajor, _isDiminished, _hasSix, _hasNine;

        /// <summary>Takes one token; false where it makes no sense there.</summary>
        public bool Take(Match token, bool isFirst)
        {
            var text = token.Value;
            if (token.Groups["major"].Success) return _isMajor = true;
            if (token.Groups["minor"].Success) _third = -3;
            else if (token.Groups["dim"].Success) (_third, _fifth, _isDiminished) = (-3, -6, true);
            else if (token.Groups["half"].Success) (_third, _fifth, _seventh) = (-3, -6, -2);
            else if (token.Groups["aug"].Success) _fifth = 8;
            else if (token.Groups["sus"].Success) Suspend(text);
            else if (token.Groups["alt"].Success) (_fifth, _seventh) = Altered();
            else if (token.Groups["sixnine"].Success) (_hasSix, _hasNine) = (true, true);
            else if (token.Groups["add"].Success) _altered.Add((Number(text), Sign(text[3..])));
            else if (token.Groups["no"].Success) _omitted.Add(Number(text));
            else if (token.Groups["sign"].Success) return Alter(Number(text), Sign(text));
            else return Figure(Number(text), isFirst);
            return true;
        }

        /// <summary>All members; null where they contradict each other.</summary>
        public IReadOnlyList<int>? Members()
        {
            if (_isMajor && _figure is 0 && !_hasSix && _altered.Count == 0 && _third == -3) return null;
            if (_figure >= 7) _seventh ??= _isDiminished ? -9 : _isMajor ? 5 : -2;
            var members = new List<int> { 0 };
            if (_third is { } third) members.Add(third);
            members.Add(_fifth);
            if (_seventh is { } seventh) members.Add(seventh);
            if (_hasSix) members.Add(3);
            if (_figure >= 9 || _hasNine) members.Add(2);
            // Over a major third the eleventh is left out of a thirteenth.
            if (_figure == 11 || (_figure == 13 && _third == -3)) members.Add(-1);
            if (_figure == 13) members.Add(3);
            foreach (var (degree, alter) in _altered)
            {
                var natural = Natural(degree);
                if (alter != 0) members.Remove(natural);
                members.Add(natural + (7 * alter));
            }

            foreach (var degree in _omitted)
                members.RemoveAll(m => degree switch { 1 => m == 0, 3 => m is 4 or -3, _ => m is 1 or -6 or 8 });
            return [.. members.Distinct()];
        }

        private (int Fifth, int Seventh) Altered()
        {
            _altered.AddRange([(9, -1), (9, 1)]);
            return (8, -2);
        }

        private void Suspend(string text)
        {
            _third = null;
            if (!text.EndsWith('2') || text.EndsWith("42", StringComparison.Ordinal)) _altered.Add((11, 0));
            if (text.Contains('2', StringComparison.Ordinal)) _altered.Add((9, 0));
        }

        private bool Alter(int degree, int alter)
        {
            if (degree == 5) _fifth = 1 + (7 * alter);
            else if (degree is 9 or 11 or 13) _altered.Add((degree, alter));
            else return false;
            return true;
        }

        private bool Figure(int figure, bool isFirst)
        {
            switch (figure)
            {
                case 5 when isFirst: _third = null; break;
                case 6: _hasSix = true; break;
                case 2 or 4 when isFirst: _altered.Add((figure + 7, 0)); break;
                case 7 or 9 or 11 or 13 when _figure == 0: _figure = figure; break;
                case 9 when _hasSix: _hasNine = true; break;
                default: return false;
            }

            return true;
        }

        private static int Number(string text) => int.Parse(string.Concat(text.Where(char.IsAsciiDigit)), CultureInfo.InvariantCulture);

        private static int Sign(string text) => text[0] is '#' or '+' ? 1 : text[0] is 'b' or '-' ? -1 : 0;

        private static int Natural(int degree) => ((ReadOnlySpan<int>)[0, 2, 4, -1, 1, 3, -2])[(degree - 1) % 7];
    }

    [GeneratedRegex(@"\s")]
    private static partial Regex IgnoredPattern();

    [GeneratedRegex(@"^(?<root>[A-G](?:bb|##|b|\#)?)(?<rest>.*?)(?:/(?<bass>[A-G](?:bb|##|b|\#)?))?$")]
    private static partial Regex Pattern();

    [GeneratedRegex(@"^(?:N\.?\s?C\.?|no chord|tacet)$", RegexOptions.IgnoreCase)]
    private static partial Regex NoChordPattern();

    [GeneratedRegex(
        @"\G(?:(?<sus>sus(?:42|24|2|4)?)|(?<add>add[b\#]?(?:13|11|9|6|4|2))|(?<no>(?:no|omit)[135])|(?<alt>alt)|(?<sixnine>6/?9)"
        + @"|(?<sign>[b\#+-](?:13|11|9|5))|(?<dim>dim|o)|(?<half>\u00f8|h(?=7|$))|(?<aug>aug|\+)"
        + @"|(?<major>maj|Maj|MAJ|ma|Ma|MA|M|j(?=7|9)|\u25b3)|(?<minor>min|Min|mi|m|-)|(?<figure>13|11|[245679]))")]
    private static partial Regex TokenPattern();
}
