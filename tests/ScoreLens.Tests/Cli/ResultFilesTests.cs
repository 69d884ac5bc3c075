using ScoreLens.Cli.Shared;
using Xunit;

namespace ScoreLens.Tests.Cli;

public sealed class ResultFilesTests
{
    [Fact]
    public void Nothing_changes_before_all_files_are_written()
    {
        using var folder = new ScratchFolder();
        File.WriteAllText(folder.At("a.csv"), "old");
        using (var results = new ResultFiles(folder.Root, new HashSet<string>()))
        {
            results.Add("a.csv", "new");
            results.Add("b.csv", "new");
            Assert.Equal("old", File.ReadAllText(folder.At("a.csv")));
        }

        Assert.Equal(["a.csv"], folder.Files());
        Assert.Equal("old", File.ReadAllText(folder.At("a.csv")));
    }

    [Fact]
    public void Committed_files_lie_in_place_and_nothing_else()
    {
        using var folder = new ScratchFolder();
        using (var results = new ResultFiles(folder.At("new"), new HashSet<string>()))
        {
            results.Add("a.csv", "1");
            results.Add("b.csv", "2");
            results.Commit();
        }

        Assert.Equal(["new/a.csv", "new/b.csv"], folder.Files());
    }

    [Fact]
    public void An_input_is_never_written_over_even_through_a_link()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("scores", "song.musicxml");
        Directory.CreateSymbolicLink(folder.At("link"), folder.At("scores"));
        var inputs = new HashSet<string> { RealPath.Of(score) };
        foreach (var place in (string[])["scores", "link"])
        {
            using var results = new ResultFiles(folder.At(place), inputs);
            Assert.Throws<UsageException>(() => results.Add("song.musicxml", "lost"));
        }
    }

    [Fact]
    public void A_folder_that_cannot_be_made_is_named_as_what_is_wrong()
    {
        using var folder = new ScratchFolder();
        var place = Path.Combine(folder.Score("song.musicxml"), "results");
        using var results = new ResultFiles(place, new HashSet<string>());
        var error = Assert.Throws<IOException>(() => results.Add("a.csv", "1"));
        Assert.StartsWith($"the results cannot be written into {place}", error.Message, StringComparison.Ordinal);
    }
}
