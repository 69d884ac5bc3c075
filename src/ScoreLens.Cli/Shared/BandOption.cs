using System.CommandLine;
using System.Globalization;
using ScoreLens.Density;

namespace ScoreLens.Cli.Shared;

/// <summary>The option <c>--band</c>, the same in every command that judges the balance.</summary>
internal static class BandOption
{
    public static Option<Band> Create() => new("--band")
    {
        Description = "How much of the time should lie outside the key, in per cent.",
        HelpName = "LOW-HIGH",
        DefaultValueFactory = _ => Band.Default,
        CustomParser = result =>
        {
            if (Band.TryParse(result.Tokens[0].Value, CultureInfo.InvariantCulture, out var band)) return band;
            result.AddError($"--band: '{result.Tokens[0].Value}' is not a band in per cent such as 20-30, from 0 to 100, the lower "
                + $"number first.");
            return default;
        },
    };
}
