using System.CommandLine;
using ScoreLens.Output.Annotation;

namespace ScoreLens.Cli.Shared;

/// <summary>The options <c>--labels</c> and <c>--as</c>, the same in every command that writes labels.</summary>
internal static class LabelListOption
{
    /// <summary>Which labels.</summary>
    public static Option<string?> Labels() =>
        Create("--labels", "Which labels: symbols,numerals,devices,keys. Default: all.", text => LabelOptions.Parse(text, null, null));

    /// <summary>As what they are written.</summary>
    public static Option<string?> Forms() =>
        Create("--as", "As what labels are written: lyric,words,harmony. Default: lyric.", text => LabelOptions.Parse(null, text, null));

    private static Option<string?> Create(string name, string description, Func<string?, LabelOptions> parse)
    {
        var option = new Option<string?>(name) { Description = description, HelpName = "LIST" };
        option.Validators.Add(result =>
        {
            try
            {
                parse(result.Tokens is [var token] ? token.Value : null);
            }
            catch (FormatException e)
            {
                result.AddError($"{name}: {e.Message}");
            }
        });
        return option;
    }
}
