using System.Globalization;
using ScoreLens.Marking.PartWriting;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

/// <summary>The table of rules in docs/partwriting.md says what the rules say of themselves.</summary>
public sealed class PartWritingManualTests
{
    private const string Rewrite = "SCORELENS_WRITE_DOCS";

    [Fact]
    public void The_manual_has_a_row_for_each_rule_as_the_rule_describes_itself()
    {
        var path = Path.Combine(Places.Root, "docs", "partwriting.md");
        var lines = File.ReadAllLines(path);
        var first = Array.FindIndex(lines, l => l.StartsWith("| --- |", StringComparison.Ordinal)) + 1;
        var rows = lines.Skip(first).TakeWhile(l => l.StartsWith('|')).ToArray();
        string[] real =
        [
            .. PartWritingRules.All.Select(r => string.Create(CultureInfo.InvariantCulture,
                $"| `{r.Name}` | {r.Weight:0.##} | {r.Sentence} | {r.Exceptions} | {r.Source} |")),
        ];
        if (Environment.GetEnvironmentVariable(Rewrite) == "1") File.WriteAllLines(path,
            [.. lines[..first], .. real, .. lines[(first + rows.Length)..]]);
        else Assert.True(real.SequenceEqual(rows), $"docs/partwriting.md is out of date: run this test once with {Rewrite}=1.");
    }
}
