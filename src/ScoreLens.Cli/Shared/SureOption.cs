using System.CommandLine;
using System.Globalization;

namespace ScoreLens.Cli.Shared;

/// <summary>The option <c>--sure</c>, the same in every command that counts devices.</summary>
internal static class SureOption
{
    /// <summary>
    /// The option; its value is a share, 0 to 1. By default nothing is left out: the tables state the confidence of each row.
    /// </summary>
    public static Option<double> Create() => new("--sure")
    {
        Description = "Leave out devices whose reading has a confidence below this, in per cent. Default: 0, which leaves out "
            + "nothing.",
        HelpName = "PERCENT",
        CustomParser = result =>
        {
            if (double.TryParse(result.Tokens[0].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var percent)
                && percent <= 100)
                return percent / 100;
            result.AddError($"--sure: '{result.Tokens[0].Value}' is not a number of per cent from 0 to 100, such as 40.");
            return 0;
        },
    };
}
