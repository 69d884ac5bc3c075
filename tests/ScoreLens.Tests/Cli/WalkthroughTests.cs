using System.Globalization;
using System.Text;
using Xunit;

namespace ScoreLens.Tests.Cli;

/// <summary>Runs every command of the walkthroughs and compares what it prints with what stands there.</summary>
public sealed class WalkthroughTests
{
    private const string Rewrite = "SCORELENS_WRITE_DOCS";

    [Fact]
    public void The_full_score_of_the_production_is_the_invented_one()
    {
        var path = Path.Combine(Places.TestData, "production", "3m2-harbour-lights.musicxml");
        var invented = InventedOrchestra.MusicXml(10, 24);
        if (Environment.GetEnvironmentVariable(Rewrite) == "1") File.WriteAllBytes(path, invented);
        Assert.Equal(invented, File.ReadAllBytes(path));
    }

    [Theory]
    [InlineData("walkthrough.md")]
    [InlineData("orchestrator.md")]
    public void A_walkthrough_shows_what_its_commands_print(string name)
    {
        var path = Path.Combine(Places.Root, "docs", name);
        var written = File.ReadAllText(path);
        using var folder = new ScratchFolder();
        var real = WithRealOutput(written, folder);
        Assert.Contains("$ scorelens", written, StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable(Rewrite) == "1") File.WriteAllText(path, real);
        else Assert.True(written == real, $"docs/{name} is out of date: run this test once with {Rewrite}=1. It should read:\n{real}");
    }

    // Keeps the text and the commands; what stands below a command in a console block is replaced by what it prints.
    private static string WithRealOutput(string document, ScratchFolder folder)
    {
        var text = new StringBuilder();
        var inside = false;
        var status = 0;
        foreach (var line in document.TrimEnd('\n').Split('\n'))
        {
            if (line.StartsWith("```", StringComparison.Ordinal)) inside = line == "```console";
            if (inside && !line.StartsWith('$') && line != "```console") continue;
            text.Append(line).Append('\n');
            if (!inside || !line.StartsWith('$')) continue;
            if (line == "$ echo $?")
            {
                text.Append(CultureInfo.InvariantCulture, $"{status}\n");
                continue;
            }

            Assert.StartsWith("$ scorelens ", line, StringComparison.Ordinal);
            var args = line["$ scorelens ".Length..].Split(' ');
            // The document speaks from the repository's root and writes beside it; here results go into a folder that is removed.
            for (var i = 0; i < args.Length; i++)
            {
                if (args[i].StartsWith("testdata/", StringComparison.Ordinal)) args[i] = Path.Combine(Places.Root, args[i]);
                else if (args[i].StartsWith("results/", StringComparison.Ordinal)
                    || args[i] is "results" or "tables" or "marked") args[i] = folder.At(args[i]);
            }

            (status, var output, var error) = ScratchFolder.Run(args);
            // A terminal shows what could not be read as well as what could.
            text.Append((error + output).ReplaceLineEndings("\n")
                .Replace(Places.Root + Path.DirectorySeparatorChar, "", StringComparison.Ordinal)
                .Replace(folder.Root + Path.DirectorySeparatorChar, "", StringComparison.Ordinal));
        }

        return text.ToString();
    }
}
