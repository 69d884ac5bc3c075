using System.Globalization;
using System.Text;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.PartWriting.Species;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

/// <summary>The entries of docs/partwriting.md say of each rule what the rule says of itself.</summary>
public sealed class PartWritingManualTests
{
    private const string Rewrite = "SCORELENS_WRITE_DOCS";
    private const int Columns = 140;

    /// <summary>The sections that list rules, and the rules of each.</summary>
    public static TheoryData<string> Sections => ["## Four voices", "## Two-part counterpoint"];

    [Theory, MemberData(nameof(Sections))]
    public void The_manual_has_an_entry_for_each_rule_as_the_rule_describes_itself(string section)
    {
        var path = Path.Combine(Places.Root, "docs", "partwriting.md");
        var lines = File.ReadAllLines(path);
        var first = Array.FindIndex(lines, Array.IndexOf(lines, section) + 1, IsEntry);
        var end = first;
        while (lines[end].Length == 0 || IsEntry(lines[end]) || lines[end].StartsWith("  ", StringComparison.Ordinal)) end++;
        string[] real = [.. Rules(section).SelectMany(Entry), ""];
        if (Environment.GetEnvironmentVariable(Rewrite) == "1") File.WriteAllLines(path, [.. lines[..first], .. real, .. lines[end..]]);
        else Assert.True(lines.AsSpan(first, end - first).SequenceEqual(real),
            $"docs/partwriting.md is out of date: run this test once with {Rewrite}=1.");
    }

    private static IEnumerable<PartWritingRule> Rules(string section) =>
        section == "## Four voices" ? PartWritingRules.All : SpeciesRules.All.OfType<SpeciesRule>();

    private static bool IsEntry(string line) => line.StartsWith("- **`", StringComparison.Ordinal);

    private static IEnumerable<string> Entry(PartWritingRule rule)
    {
        var text = string.Create(CultureInfo.InvariantCulture, $"- **`{rule.Name}`**, weight {rule.Weight:0.##}. {rule.Sentence}");
        if (rule.Exceptions.Length > 0) text += $" *Exceptions:* {rule.Exceptions}";
        // The species have their sources together, below their list.
        if (rule is not SpeciesRule) text += $" *Source:* {rule.Source}";
        var line = new StringBuilder();
        foreach (var word in text.Split(' '))
        {
            if (line.Length + 1 + word.Length > Columns)
            {
                yield return line.ToString();
                line.Clear().Append("  ").Append(word);
            }
            else
            {
                line.Append(line.Length > 0 ? " " : "").Append(word);
            }
        }

        yield return line.ToString();
    }
}
