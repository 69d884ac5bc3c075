using System.CommandLine;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;

namespace ScoreLens.Cli.Shared;

/// <summary>The options <c>--labels</c> and <c>--as</c>, the same in every command that writes labels.</summary>
internal static class LabelListOption
{
    /// <summary>What <c>--as</c> asks for a lead sheet by.</summary>
    public const string LeadSheet = "leadsheet";

    /// <summary>Which labels.</summary>
    public static Option<string?> Labels() =>
        Create("--labels", "Labels to write: one or more of symbols,numerals,devices,keys. Default: all.",
            text => LabelOptions.Parse(text, null, null));

    /// <summary>As what the labels of a reduction are written, or that it is a lead sheet instead.</summary>
    public static Option<string?> FormsOrLeadSheet() => Create(
        "--as",
        "leadsheet: the melody with chord symbols on one staff (NAME.leadsheet.musicxml) instead of the reduction. Otherwise "
            + "the form of the labels: one or more of lyric,words,harmony. Default: lyric.",
        text => LabelOptions.Parse(null, text == LeadSheet ? null : text, null));

    /// <summary>As what they are written.</summary>
    public static Option<string?> Forms() =>
        Create("--as", "Form of the labels: one or more of lyric,words,harmony. Default: lyric.",
            text => LabelOptions.Parse(null, text, null));

    /// <summary>How the qualities of chord symbols are spelled.</summary>
    public static Option<SymbolSpelling> Symbols() => new("--symbols")
    {
        Description = "Spelling of chord symbols: plain (Cmaj7, Am7, Bm7b5) or jazz (C△7, A-7, Bø7). Default: plain.",
        HelpName = "plain|jazz",
        CustomParser = result =>
        {
            switch (result.Tokens[0].Value.ToUpperInvariant())
            {
                case "PLAIN": return SymbolSpelling.Plain;
                case "JAZZ": return SymbolSpelling.Jazz;
                default:
                    result.AddError($"--symbols: '{result.Tokens[0].Value}' is neither plain nor jazz.");
                    return SymbolSpelling.Plain;
            }
        },
    };

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
