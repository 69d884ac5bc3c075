using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>Places as people say them: a measure, a rehearsal mark, a time code.</summary>
public sealed class PlaceTests
{
    // A quarter note at 96 lasts 0.625 s, a measure 2.5 s; the marks A and B stand at measures 1 and 9.
    [Theory]
    [InlineData("11", "measure 11, beat 1")]
    [InlineData("B", "measure 9, beat 1")]
    [InlineData("B+2", "measure 11, beat 1")]
    [InlineData("b+2:3", "measure 11, beat 3")]
    [InlineData("0:00:22.5", "measure 10, beat 1")]
    [InlineData("0:00:23.8", "measure 10, beat 3")]
    [InlineData("01:00:22:12 --frames 24 --start 01:00:00:00", "measure 10, beat 1")]
    public void A_place_is_found_by_measure_mark_and_time(string place, string measure)
    {
        using var folder = new ScratchFolder();
        var (status, output, error) = Run(["explain", Score(folder), "--at", .. place.Split(' ')]);
        Assert.Equal((0, ""), (status, error));
        Assert.Contains(measure, output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Q", "there is no measure Q; the measures are 1 to 16. The rehearsal marks are A, B.")]
    [InlineData("0:10:00", "nothing is played at 0:10:00; the score goes from 0:00:00.0 to the measure that begins at 0:00:37.5.")]
    [InlineData("0:99:00", "'0:99:00' is not a time; write 0:01:23.5 or, with --frames, 01:02:03:12.")]
    public void A_place_that_is_not_there_is_refused_with_what_is(string place, string message)
    {
        using var folder = new ScratchFolder();
        var (status, _, error) = Run("explain", Score(folder), "--at", place);
        Assert.Equal(2, status);
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_tempo_a_time_asks_for_one()
    {
        var score = Path.Combine(Places.TestData, "lamplight.musicxml");
        var (status, _, error) = Run("explain", score, "--at", "0:00:05");
        Assert.Equal(2, status);
        Assert.Contains("give --tempo", error, StringComparison.Ordinal);
        Assert.Equal(0, Run("explain", score, "--at", "0:00:05", "--tempo", "60").Status);
    }

    [Fact]
    public void Tables_and_audit_state_marks_times_and_who_plays_the_colour()
    {
        using var folder = new ScratchFolder();
        Assert.Equal(0, Run("annotate", Score(folder), "--out", folder.At("out"), "--frames", "25", "--start", "10:00:00:00").Status);
        var rows = File.ReadAllLines(folder.At("out", "harbour.chords.csv")).Select(l => l.Split(',')).ToArray();
        Assert.Equal(["movement", "rehearsal", "time", "colour", "disagrees", "pedal"], rows[0][^6..]);
        var ninth = Array.Find(rows, r => r[2] == "9" && r[3] == "1")!;
        Assert.Contains("B", ninth);
        Assert.Contains("10:00:20:00", ninth);
        Assert.EndsWith("rehearsal,time", File.ReadAllLines(folder.At("out", "harbour.phrases.csv"))[0], StringComparison.Ordinal);

        var audit = Run("audit", Score(folder), "--start", "10:00:00:00", "--frames", "25").Output;
        Assert.Contains("(from A, 10:00:00:00)", audit, StringComparison.Ordinal);
        Assert.Contains("A (m. 1): ", audit, StringComparison.Ordinal);
        Assert.Contains("densest 8 measures: m. ", audit, StringComparison.Ordinal);
        Assert.Contains("again within 8 measures: secondary-dominant, ", audit, StringComparison.Ordinal);
        Assert.Contains("again within 3 measures: ", Run("audit", Score(folder), "--within", "3").Output, StringComparison.Ordinal);
        Assert.Matches(@"V65/V m\. 2:3 in Eb major, \d+ % \(A: [A-Z][^)]+\)", audit);
    }

    private static string Score(ScratchFolder folder)
    {
        File.WriteAllBytes(folder.At("harbour.musicxml"), InventedOrchestra.MusicXml(10, 16));
        return folder.At("harbour.musicxml");
    }
}
