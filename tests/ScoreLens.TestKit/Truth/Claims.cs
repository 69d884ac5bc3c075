using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>
/// Reads what a sentence of the column <c>reason</c> says of the notes: written from the examples of docs/devices.md, and not from the code
/// that words the sentences.
/// </summary>
internal static partial class Claims
{
    private const string Name = "[A-G](?:##|#|bb|b)?";
    private const string Degree = "[#b]*(?:VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)";
    private const string Figure = $"(?:{Degree}|N|Ger|Fr|It|Cad|CTo)(?:maj|o|ø|\\+)*[0-9]*(?:/{Degree})*(?![A-Za-z])";
    private static readonly string[] Ordinals = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh"];

    /// <summary>What a sentence says; empty where nothing is understood.</summary>
    public static IReadOnlyList<Claim> Of(string reason)
    {
        var claims = new List<Claim>();
        var goals = new HashSet<int>();
        foreach (Match match in MovementPattern().Matches(reason))
        {
            if (Subject(match.Groups["from"], reason) is not { } from) continue;
            var to = match.Groups["to"];
            goals.Add(to.Index);
            claims.Add(new Claim.Moves(from, match.Groups["way"].Value == "rises", Tone.Parse(to.Value), !match.Groups["apart"].Success));
        }

        foreach (Match match in HeldPattern().Matches(reason))
            if (Subject(match.Groups["tone"], reason) is { } held) claims.Add(new Claim.Held(held));
        foreach (Match match in TonePattern().Matches(reason))
        {
            if (goals.Contains(match.Index)) continue;
            var tone = Tone.Parse(match.Value);
            claims.Add(InSymbolPattern().IsMatch(reason[(match.Index + match.Length)..]) ? new Claim.InSymbol(tone)
                : new Claim.Named(tone));
        }

        claims.AddRange(DegreePattern().Matches(reason).Select(DegreeOf));
        foreach (Match match in LeadingPattern().Matches(reason))
        {
            var to = match.Groups["to"];
            claims.Add(new Claim.Leads(Tone.Parse(match.Groups["tone"].Value), to.Success ? to.Value : null));
        }

        foreach (var match in FollowPattern().Matches(reason).Concat(LatePattern().Matches(reason)))
            claims.Add(new Claim.Follow([.. Numerals(match.Groups["between"].Value), match.Groups["goal"].Value]));
        foreach (Match match in ThirdPattern().Matches(reason))
        {
            var size = match.Groups["size"].Value == "major" ? 4 : 3;
            claims.Add(new Claim.Thirds(
                match.Groups["own"].Value, match.Groups["beside"].Value, match.Groups["way"].Value == "above" ? size : 12 - size,
                    match.Groups["place"].Value == "before"));
        }

        claims.AddRange(PedalPattern().Matches(reason).Select(m => new Claim.Pedal(
            Tone.Parse(m.Groups["tone"].Value), m.Groups["way"].Value == "stands over", m.Groups["degree"].Value,
            Key.Parse(m.Groups["key"].Value))));
        if (UnprovenPattern().Match(reason) is { Success: true } unproven) claims.Add(new Claim.NoDevice(unproven.Groups["few"].Success));
        return claims;
    }

    // 'it' is the tone that the sentence begins with.
    private static Tone? Subject(Group tone, string reason)
    {
        if (tone is { Success: true, Value: not "it" }) return Tone.Parse(tone.Value);
        return TonePattern().Match(reason) is { Success: true } first ? Tone.Parse(first.Value) : null;
    }

    private static IEnumerable<string> Numerals(string text) => FigurePattern().Matches(text).Select(m => m.Value);

    private static Claim.IsDegree DegreeOf(Match match)
    {
        var alteration = match.Groups["change"].Value switch
        {
            "raised " => 1,
            "lowered " => -1,
            "doubly raised " => 2,
            "doubly lowered " => -2,
            _ => 0,
        };
        var degree = Array.IndexOf(Ordinals, match.Groups["degree"].Value) + 1;
        return new Claim.IsDegree(Tone.Parse(match.Groups["tone"].Value), degree, alteration);
    }

    // A tone by itself: no key or chord (C major, G7), no root that something else stands on or for; and no article.
    [GeneratedRegex(
        $@"(?<![\w#])(?<!\bon )(?<!\bfor ){Name}(?![\w#]| major| minor|-)"
        + @"(?=,? (?:is|are|and|rises|falls|move|over|sounds|written|delay|in the written symbol|[A-G])|\b,|\)|\.|;)")]
    private static partial Regex TonePattern();

    // After a tone: it, or the list that it stands in, is in the written symbol.
    [GeneratedRegex($@"^(?: \(written {Name}|\))*(?:(?:, | and ){Name}(?: \(written {Name}\))?)* in the written symbol")]
    private static partial Regex InSymbolPattern();

    [GeneratedRegex(
        $@"(?<from>\bit|(?<![\w#]){Name}) (?<way>rises|falls) to (?<to>{Name})(?![\w#])(?<apart> in another (?:part|voice))?")]
    private static partial Regex MovementPattern();

    [GeneratedRegex($@"(?:(?<tone>(?<![\w#]){Name}|\bit)|\bboth and) is held")]
    private static partial Regex HeldPattern();

    [GeneratedRegex(
        $@"(?<tone>(?<![\w#]){Name})(?: in the written symbol)? is the (?<change>(?:doubly )?(?:raised|lowered) )?"
        + "(?<degree>first|second|third|fourth|fifth|sixth|seventh) degree")]
    private static partial Regex DegreePattern();

    [GeneratedRegex($@"(?<tone>(?<![\w#]){Name})(?: in the written symbol)? is (?:the [a-z ]+ degree, )?the leading tone(?: of (?<to>{Figure}))?")]
    private static partial Regex LeadingPattern();

    [GeneratedRegex(
        @"(?:moves (?:through (?<between>.+?) )?to |goes deceptively (?:through (?<between>.+?) )?to |but (?:after (?<between>.+?) )?|as |the root of )"
        + $@"(?<goal>{Figure})(?= follows|[.,;]| instead| of [A-G][#b]* m|$)")]
    private static partial Regex FollowPattern();

    [GeneratedRegex($@"(?<goal>{Figure})(?: of [A-G][#b]* (?:major|minor))? comes late, after (?<between>[^.;]+)")]
    private static partial Regex LatePattern();

    [GeneratedRegex($@"(?<own>{Figure}) stands a (?<size>major|minor) third (?<way>above|below) (?<beside>{Figure})(?: of [A-G][#b]* (?:major|minor))?, the chord (?<place>before|after) it")]
    private static partial Regex ThirdPattern();

    [GeneratedRegex(@"is a reading here and not counted as a device \([a-z-]+\): (?<few>fewer than three different tones sound)?")]
    private static partial Regex UnprovenPattern();

    [GeneratedRegex($@"It (?<way>stands over|sounds with) a pedal on (?<tone>{Name}), degree (?<degree>[#b]*[1-7]) of "
        + @"(?<key>[A-G][#b]* (?:major|minor)), which is no tone of the chord\.")]
    private static partial Regex PedalPattern();

    [GeneratedRegex($@"(?<![\w#]){Figure}")]
    private static partial Regex FigurePattern();
}
