using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ScoreLens.Cli.Shared;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>What <c>--apply</c> asks for: the rank at the place of <c>--at</c>, or places with a rank each.</summary>
internal sealed record Picks(int? Rank, IReadOnlyList<(ScorePlace Place, int Rank)> Places)
{
    public static Option<Picks?> Option() => new("--apply")
    {
        Description = "Write the score with the alternative of this rank at the place of --at, or with several at once, each as "
            + "PLACE=RANK: "
            + "NAME.reharmonised.musicxml and NAME.reharmonised.mid, and NAME.before.reharmonised.mid to compare.",
        HelpName = "K | PLACE=K,…",
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (IsRank(text, out var rank)) return new Picks(rank, []);
            var places = new List<(ScorePlace, int)>();
            foreach (var pick in text.Split(','))
            {
                var equals = pick.LastIndexOf('=');
                if (equals > 0 && IsRank(pick[(equals + 1)..], out var own) && ScorePlace.TryParse(pick[..equals], out var place))
                {
                    places.Add((place, own));
                    continue;
                }

                result.AddError($"--apply: '{pick}' is neither a number from 1 nor a place with one, as in 12:3=2.");
                return null;
            }

            return new Picks(null, places);
        },
    };

    /// <summary>Sees that every rank has its place.</summary>
    public static void Check(string text, CommandResult result, Option at)
    {
        var (hasPlace, isAlone) = (result.GetResult(at) is { Implicit: false }, IsRank(text, out _));
        if (isAlone && !hasPlace) result.AddError("--apply needs --at, or a place with every rank: 12:3=2,14=1.");
        if (!isAlone && hasPlace) result.AddError("Give --at, or places in --apply, not both.");
    }

    private static bool IsRank(string text, out int rank) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out rank) && rank >= 1;
}
