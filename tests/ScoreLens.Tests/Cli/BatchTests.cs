using ScoreLens.Cli.Shared;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>Large folders: shares for several machines, and runs that go on where an earlier one stopped.</summary>
public sealed class BatchTests
{
    private static readonly string Cues = Path.Combine(Places.TestData, "cues");

    [Fact]
    public void Every_input_falls_into_one_share_whatever_else_is_there()
    {
        string[] names = [.. Enumerable.Range(0, 500).Select(i => $"part {i % 7}/cue {i}/score.mxl")];
        foreach (var count in (int[])[1, 2, 16])
        {
            Assert.All(names, name => Assert.Single(Enumerable.Range(1, count), k => new Shard(k, count).Holds(name)));
            var sizes = Enumerable.Range(1, count).Select(k => names.Count(new Shard(k, count).Holds)).ToArray();
            Assert.All(sizes, size => Assert.InRange(size, names.Length / count / 2, names.Length / count * 2));
        }

        Assert.Equal(new Shard(3, 4).Holds("a/b.mxl"), new Shard(3, 4).Holds(@"a\b.mxl"));
    }

    [Fact]
    public void The_shares_of_a_run_write_together_what_one_run_writes()
    {
        using var folder = new ScratchFolder();
        Run("annotate", Cues, "--quiet", "--out", folder.At("whole"));
        foreach (var k in Enumerable.Range(1, 3)) Assert.Equal(0,
            Run("annotate", Cues, "--quiet", "--shard", $"{k}/3", "--out", folder.At("shares")).Status);
        string[] Written(string name) => [.. Directory.EnumerateFiles(folder.At(name), "*", SearchOption.AllDirectories)
            .Select(f => $"{Path.GetFileName(f)} "
                + $"{File.ReadAllText(f).GetHashCode(StringComparison.Ordinal)}").Order(StringComparer.Ordinal)];
        Assert.Equal(Written("whole"), Written("shares"));
    }

    [Theory]
    [InlineData("0/3")]
    [InlineData("4/3")]
    [InlineData("3")]
    [InlineData("a/b")]
    public void A_share_that_is_none_is_a_wrong_command_line(string share)
    {
        var (status, _, error) = Run("annotate", Cues, "--shard", share);
        Assert.Equal(2, status);
        Assert.Contains($"'{share}'", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_goes_on_where_an_earlier_one_stopped()
    {
        using var folder = new ScratchFolder();
        var (first, second) = (folder.Score("first.musicxml"), folder.Score("second.musicxml"));
        string Annotate(params string[] more) => Run(["annotate", first, second, "--resume", "--out", folder.At("out"), .. more]).Output;
        Assert.DoesNotContain("unchanged", Annotate(), StringComparison.Ordinal);
        Assert.Equal(2, Annotate().Split("unchanged").Length - 1);

        // A result that is gone, a file that has changed, and another question are each done anew.
        File.Delete(folder.At("out", "first.chords.csv"));
        Assert.Contains("second.musicxml: unchanged", Annotate(), StringComparison.Ordinal);
        Assert.True(File.Exists(folder.At("out", "first.chords.csv")));
        File.AppendAllText(second, "\n");
        Assert.Contains("first.musicxml: unchanged", Annotate(), StringComparison.Ordinal);
        Assert.Equal(2, Annotate().Split("unchanged").Length - 1);
        Assert.DoesNotContain("unchanged", Annotate("--keys", "touch"), StringComparison.Ordinal);
    }
}
