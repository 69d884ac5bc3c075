using System.Globalization;
using System.Text.RegularExpressions;
using ScoreLens.Cli;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Repository;

/// <summary>What the README and the manual show works as it stands there.</summary>
public sealed partial class ManualTests
{
    private static readonly string[] Pages =
    [
        .. new[] { "README.md", "DEVELOPERS.md" }.Where(f => File.Exists(Path.Combine(Places.Root, f))),
        .. Directory.EnumerateFiles(Path.Combine(Places.Root, "docs"), "*.md", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(Places.Root, f)).Order(),
    ];

    public static TheoryData<string> AllPages => [.. Pages];

    [Theory]
    [MemberData(nameof(AllPages))]
    public void Every_command_line_that_is_shown_parses(string page)
    {
        foreach (var line in CommandLines(page))
        {
            var errors = CommandLine.Create().Parse(line).Errors;
            Assert.True(errors.Count == 0, $"{page}: '{line}': {string.Join(' ', errors.Select(e => e.Message))}");
        }
    }

    [Theory]
    [MemberData(nameof(AllPages))]
    public void Every_link_to_a_file_leads_there(string page)
    {
        foreach (Match match in LinkPattern().Matches(File.ReadAllText(Path.Combine(Places.Root, page))))
        {
            var target = match.Groups["target"].Value;
            if (target.Contains("://", StringComparison.Ordinal) || target.StartsWith('#')) continue;
            var path = Path.Combine(Places.Root, Path.GetDirectoryName(page)!, target.Split('#')[0]);
            Assert.True(Path.Exists(path), $"{page} links to {target}, which is not there.");
        }
    }

    [Fact]
    public void The_library_example_of_the_readme_is_the_one_that_runs_here()
    {
        using var Console = new StringWriter(CultureInfo.InvariantCulture);
        //// example
        var file = ScoreFile.Load(Path.Combine(Places.Root, "testdata/lamplight.musicxml"));
        var analysis = CueAnalysis.Of(file.Score);
        foreach (var chord in analysis.Chords.Where(c => c.IsOutside))
        {
            var reading = chord.Reading;
            Console.WriteLine($"{reading.Onset}: {reading.Numeral} in {reading.Key} ({chord.Device?.Name()}, {chord.Resolution.Name()}) "
                + $"{ReasonText.Of(chord.Reason)}");
        }

        var density = CueDensity.Of(analysis, Band.Default);
        Console.WriteLine($"{100 * density.Whole.OutsideTime.ToDouble():0.0} % of the time outside the key: {density.Verdict.Name()} the "
            + $"band {density.Band}");
        //// end of example
        Assert.Contains("Ger65 in F major (augmented-sixth", Console.ToString(), StringComparison.Ordinal);
        Assert.Contains("the band 20-30", Console.ToString(), StringComparison.Ordinal);

        var source = File.ReadAllLines(Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Repository", "ManualTests.cs"));
        var ran = source.SkipWhile(l => l.Trim() != "//// example").Skip(1).TakeWhile(l => l.Trim() != "//// end of example")
            .Select(l => l.Length > 8 ? l[8..].Replace("Path.Combine(Places.Root, \"testdata/lamplight.musicxml\")",
                "\"testdata/lamplight.musicxml\"", StringComparison.Ordinal) : "");
        var shown = File.ReadAllLines(Path.Combine(Places.Root, "README.md")).SkipWhile(l => l != "```csharp").Skip(1)
            .TakeWhile(l => l != "```");
        Assert.Equal(shown, ran);
    }

    // A line that begins with the program, in a code block, without the signs of a synopsis.
    private static IEnumerable<string> CommandLines(string page)
    {
        foreach (var line in File.ReadLines(Path.Combine(Places.Root, page)))
        {
            if (CommandPattern().Match(line) is { Success: true } match && !line.Contains('…', StringComparison.Ordinal)
                && !line.Contains('[', StringComparison.Ordinal))
                yield return match.Groups["line"].Value.Trim();
        }
    }

    [GeneratedRegex(@"^\s*(\$ )?(scorelens|dotnet run --project src/ScoreLens\.Cli --) (?<line>[a-z].*)$")]
    private static partial Regex CommandPattern();

    [GeneratedRegex(@"\]\((?<target>[^)\s]+)\)")]
    private static partial Regex LinkPattern();
}
