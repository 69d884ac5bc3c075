using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;

namespace ScoreLens.Cli.Shared;

/// <summary>A part of a score as the command line names it.</summary>
/// <param name="Text">Its number from the top, from 1, or its name or the beginning of its name.</param>
internal sealed record PartChoice(string Text)
{
    /// <summary>An option that takes a part.</summary>
    public static Option<PartChoice?> Option(string name, string description) => new(name)
    {
        Description = description,
        HelpName = "PART",
        CustomParser = result => new PartChoice(result.Tokens[0].Value.Trim()),
    };

    /// <summary>The part's place in a score, from 0.</summary>
    /// <exception cref="UsageException">There is no such part, or several begin with the name and none has it.</exception>
    public int In(Score score)
    {
        if (int.TryParse(Text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1
            && number <= score.Parts.Count)
            return number - 1;
        var named = score.Parts.Where(p => p.Name.Equals(Text, StringComparison.OrdinalIgnoreCase)).ToArray();
        if (named.Length == 0 && Text.Length > 0)
            named = [.. score.Parts.Where(p => p.Name.StartsWith(Text, StringComparison.OrdinalIgnoreCase))];
        if (named is [var part]) return part.Index;
        var parts = string.Join(", ", score.Parts.Select(p => $"{p.Index + 1} {p.Name}".TrimEnd()));
        throw new UsageException($"{(named.Length == 0 ? $"there is no part '{Text}'" : $"several parts are called '{Text}'")}; the "
            + $"parts are {parts}.");
    }
}
