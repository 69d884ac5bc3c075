using System.CommandLine;
using ScoreLens.Keys;

namespace ScoreLens.Cli.Shared;

/// <summary>The option <c>--keys</c>, the same in every command that reads scores.</summary>
internal static class KeysOption
{
    public static Option<KeyRule> Create() => new("--keys")
    {
        Description = "When a key counts as new: touch (as soon as its chords are heard), confirm (it stays, or a phrase closes in it), "
            + "phrase (it holds for a phrase). Default: confirm.",
        HelpName = "RULE",
        DefaultValueFactory = _ => KeyRule.Confirm,
        CustomParser = result =>
        {
            if (KeyRuleNames.TryParse(result.Tokens[0].Value, out var rule)) return rule;
            result.AddError($"--keys: '{result.Tokens[0].Value}' is not touch, confirm or phrase.");
            return KeyRule.Confirm;
        },
    };
}
