using System.CommandLine;
using System.CommandLine.Parsing;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>What is chosen at a place: the alternative of a rank, or a chord by its numeral.</summary>
/// <param name="Rank">The rank, from 1; 0 where the chord is named.</param>
/// <param name="Numeral">The chord's numeral, which the key of the place completes; null where a rank is given.</param>
internal sealed record Pick(int Rank, string? Numeral)
{
    public static bool TryParse(string text, [NotNullWhen(true)] out Pick? pick)
    {
        pick = int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var rank) && rank >= 1 ? new Pick(rank, null)
            : Theory.Numeral.TryParse(text, CultureInfo.InvariantCulture, out _) ? new Pick(0, text) : null;
        return pick is not null;
    }
}

/// <summary>What <c>--apply</c> asks for: a choice at the place of <c>--at</c>, or places with a choice each.</summary>
internal sealed record Picks(Pick? Pick, IReadOnlyList<(PlaceSpan Place, Pick Pick)> Places)
{
    public static Option<Picks?> Option() => new("--apply")
    {
        Description = "Write the alternative of this rank, or the chord of this numeral, at the place of --at; or several at once, each as "
            + "PLACE=RANK or PLACE=NUMERAL. FROM-TO stands for --at FROM --to TO. Writes NAME.reharmonised.musicxml, "
            + "NAME.reharmonised.mid and NAME.before.reharmonised.mid.",
        HelpName = "K | PLACE=K,…",
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (!text.Contains('=', StringComparison.Ordinal) && Reharmonising.Pick.TryParse(text, out var alone))
                return new Picks(alone, []);
            var places = new List<(PlaceSpan, Pick)>();
            foreach (var part in text.Split(','))
            {
                var equals = part.LastIndexOf('=');
                if (equals > 0 && Reharmonising.Pick.TryParse(part[(equals + 1)..], out var pick)
                    && PlaceSpan.TryParse(part[..equals], out var place))
                {
                    places.Add((place, pick));
                    continue;
                }

                result.AddError($"--apply: '{part}' is neither a number from 1 nor a numeral nor a place with one, as in 12:3=2.");
                return null;
            }

            return new Picks(null, places);
        },
    };

    /// <summary>Sees that every choice has its place.</summary>
    public static void Check(string text, CommandResult result, Option at)
    {
        var (hasPlace, isAlone) = (result.GetResult(at) is { Implicit: false }, !text.Contains('=', StringComparison.Ordinal));
        if (isAlone && !hasPlace) result.AddError("--apply needs --at, or a place with every choice: 12:3=2,14=1.");
        if (!isAlone && hasPlace) result.AddError("Give --at, or places in --apply, not both.");
    }
}
