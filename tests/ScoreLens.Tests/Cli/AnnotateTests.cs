using ScoreLens.Notation;
using ScoreLens.Tests.Annotation;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

public sealed class AnnotateTests
{
    [Fact]
    public void A_score_gives_the_annotated_score_the_tables_and_the_page()
    {
        using var folder = new ScratchFolder();
        Assert.Equal(0, Run("annotate", folder.Score("song.musicxml"), "--quiet", "--json").Status);
        Assert.Equal(
            ["song.musicxml", "song.scorelens/song.annotated.musicxml", "song.scorelens/song.chords.csv", "song.scorelens/song.json",
                "song.scorelens/song.page.html", "song.scorelens/song.phrases.csv"],
            folder.Files());
        var texts = ScoreFile.Load(folder.At("song.scorelens", "song.annotated.musicxml"), Annotations.WithOwnLabels)
            .Score.Texts.Select(t => t.Text);
        Assert.Contains(texts, t => t.Contains('V', StringComparison.Ordinal));
    }

    [Fact]
    public void Stripping_gives_the_original_back_and_annotating_twice_the_same_file()
    {
        using var folder = new ScratchFolder();
        var original = folder.Score("song.musicxml");
        Run("annotate", original, "--quiet", "--out", folder.At("once"));
        var annotated = folder.At("once", "song.annotated.musicxml");
        Run("annotate", annotated, "--quiet", "--out", folder.At("twice"));
        Run("annotate", annotated, "--quiet", "--strip", "--out", folder.At("plain"));
        Assert.Equal(File.ReadAllBytes(annotated), File.ReadAllBytes(folder.At("twice", "song.annotated.annotated.musicxml")));
        Assert.Equal(File.ReadAllBytes(original), File.ReadAllBytes(folder.At("plain", "song.annotated.stripped.musicxml")));
        Assert.Equal(File.ReadAllText(folder.At("once", "song.chords.csv")),
            File.ReadAllText(folder.At("twice", "song.annotated.chords.csv")));
    }

    [Fact]
    public void An_input_is_not_written_over_where_the_output_folder_holds_it()
    {
        using var folder = new ScratchFolder();
        var (plain, taken) = (folder.Score("song.musicxml"), folder.Score("song.annotated.musicxml"));
        var before = File.ReadAllBytes(taken);
        var (status, _, error) = Run("annotate", plain, taken, "--out", folder.Root);
        Assert.Equal(2, status);
        Assert.Contains("written over", error, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(taken));
    }

    [Theory]
    [InlineData("--labels", "nonsense")]
    [InlineData("--as", "nonsense")]
    public void Unknown_labels_are_a_wrong_command_line(string option, string value)
    {
        var (status, _, error) = Run("annotate", "song.mxl", option, value);
        Assert.Equal(2, status);
        Assert.Contains("nonsense", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_the_score_has_not_is_reported_with_those_that_it_has()
    {
        using var folder = new ScratchFolder();
        var (status, _, error) = Run("annotate", folder.Score("song.musicxml"), "--part", "Kazoo");
        Assert.Equal(2, status);
        Assert.Contains("Piano", error, StringComparison.Ordinal);
    }
}
