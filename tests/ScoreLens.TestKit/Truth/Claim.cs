using System.Text.RegularExpressions;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>One thing that a sentence says of the notes.</summary>
internal abstract record Claim
{
    /// <summary>A tone is named, and so must sound.</summary>
    internal sealed record Named(Tone Tone) : Claim;

    /// <summary>A tone rises or falls to another.</summary>
    internal sealed record Moves(Tone From, bool Up, Tone To, bool InOneVoice) : Claim;

    /// <summary>A tone is held.</summary>
    internal sealed record Held(Tone Tone) : Claim;

    /// <summary>A tone is a degree of the key: from 1, and how many semitones it is raised (lowered: negative).</summary>
    internal sealed record IsDegree(Tone Tone, int Degree, int Alteration) : Claim;

    /// <summary>A tone is the leading tone of the key, or of a degree that a numeral names.</summary>
    internal sealed record Leads(Tone Tone, string? To) : Claim;

    /// <summary>Chords that follow, by numeral, in order and the last of them the goal.</summary>
    internal sealed record Follow(IReadOnlyList<string> Numerals) : Claim;
}

/// <summary>Reads what a sentence of the column <c>reason</c> says of the notes. Written from the manual's examples, not from what words them.</summary>
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
            var subject = match.Groups["from"].Value == "it" ? FirstTone(reason) : Tone.Parse(match.Groups["from"].Value);
            if (subject is not { } from) continue;
            goals.Add(match.Groups["to"].Index);
            claims.Add(new Claim.Moves(from, match.Groups["way"].Value == "rises", Tone.Parse(match.Groups["to"].Value), !match.Groups["apart"].Success));
        }

        foreach (Match match in HeldPattern().Matches(reason))
            if ((match.Groups["tone"].Success ? Tone.Parse(match.Groups["tone"].Value) : FirstTone(reason)) is { } held) claims.Add(new Claim.Held(held));
        foreach (Match match in TonePattern().Matches(reason))
            if (!goals.Contains(match.Index)) claims.Add(new Claim.Named(Tone.Parse(match.Value)));
        foreach (Match match in DegreePattern().Matches(reason)) claims.Add(DegreeOf(match));
        foreach (Match match in LeadingPattern().Matches(reason))
            if (FirstTone(reason) is { } leading) claims.Add(new Claim.Leads(leading, match.Groups["to"].Success ? match.Groups["to"].Value : null));
        foreach (Match match in FollowPattern().Matches(reason))
            claims.Add(new Claim.Follow([.. FigurePattern().Matches(match.Groups["between"].Value).Select(m => m.Value), match.Groups["goal"].Value]));
        foreach (Match match in LatePattern().Matches(reason))
            claims.Add(new Claim.Follow([.. FigurePattern().Matches(match.Groups["between"].Value).Select(m => m.Value), match.Groups["goal"].Value]));
        return claims;
    }

    private static Tone? FirstTone(string reason) => TonePattern().Match(reason) is { Success: true } match ? Tone.Parse(match.Value) : null;

    private static Claim.IsDegree DegreeOf(Match match)
    {
        var sign = match.Groups["change"].Value switch { "raised " => 1, "lowered " => -1, "doubly raised " => 2, "doubly lowered " => -2, _ => 0 };
        return new Claim.IsDegree(Tone.Parse(match.Groups["tone"].Value), Array.IndexOf(Ordinals, match.Groups["degree"].Value) + 1, sign);
    }

    // A tone by itself: no key or chord (C major, G7), no root that something else stands on or for; and no article.
    [GeneratedRegex($@"(?<![\w#])(?<!\bon )(?<!\bfor ){Name}(?![\w#]| major| minor|-)(?=,? (?:is|are|and|rises|falls|move|over|sounds|written|delay|[A-G])|\b,|\)|\.|;)")]
    private static partial Regex TonePattern();

    [GeneratedRegex($@"(?<from>\bit|(?<![\w#]){Name}) (?<way>rises|falls) to (?<to>{Name})(?![\w#])(?<apart> in another (?:part|voice))?")]
    private static partial Regex MovementPattern();

    [GeneratedRegex($@"(?:(?<tone>(?<![\w#]){Name})|\bit|\bboth and) is held")]
    private static partial Regex HeldPattern();

    [GeneratedRegex($@"(?<tone>(?<![\w#]){Name}) is the (?<change>(?:doubly )?(?:raised|lowered) )?(?<degree>first|second|third|fourth|fifth|sixth|seventh) degree")]
    private static partial Regex DegreePattern();

    [GeneratedRegex($@"the leading tone(?: of (?<to>{Figure}))?")]
    private static partial Regex LeadingPattern();

    [GeneratedRegex($@"(?:moves (?:through (?<between>.+?) )?to |goes deceptively to |but |as |, and |the root of )(?<goal>{Figure})(?= follows|[.,;]| instead|$)")]
    private static partial Regex FollowPattern();

    [GeneratedRegex($@"(?<goal>{Figure}) comes late, after (?<between>[^.;]+)")]
    private static partial Regex LatePattern();

    [GeneratedRegex($@"(?<![\w#]){Figure}")]
    private static partial Regex FigurePattern();
}
