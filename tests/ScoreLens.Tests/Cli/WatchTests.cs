using System.CommandLine;
using System.Globalization;
using ScoreLens.Cli;
using ScoreLens.Cli.Annotating;
using ScoreLens.Density;
using ScoreLens.Notation;
using Xunit;

namespace ScoreLens.Tests.Cli;

/// <summary>watch annotates a score again when it is saved.</summary>
public sealed class WatchTests
{
    [Fact]
    public async Task A_score_is_annotated_again_when_it_is_saved_and_a_half_written_one_is_not()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("cues", "song.musicxml");
        using var printed = new StringWriter(CultureInfo.InvariantCulture);
        using var reported = new StringWriter(CultureInfo.InvariantCulture);
        var (output, error) = (TextWriter.Synchronized(printed), TextWriter.Synchronized(reported));
        using var stop = new CancellationTokenSource();
        var parse = CommandLine.Create().Parse(["watch", folder.At("cues"), "--out", folder.At("out")]);
        var watching = parse.InvokeAsync(
            new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false }, stop.Token);
        await Until(() => Text(output, printed).Contains("Watching; Ctrl+C ends it.", StringComparison.Ordinal));
        Assert.Contains("F major", Text(output, printed), StringComparison.Ordinal);
        var stamp = await File.ReadAllTextAsync(folder.At("out", "song.watch.js"), stop.Token);
        Assert.Contains("data-watch=\"song.watch.js\"",
            await File.ReadAllTextAsync(folder.At("out", "song.page.html"), stop.Token), StringComparison.Ordinal);

        // What is saved anew is told by what it changes; the plainer cue has nothing outside the key.
        File.Copy(Path.Combine(Places.TestData, "cues", "1m1-morning-at-vell.musicxml"), score, overwrite: true);
        await Until(() => Text(output, printed).Contains("0 % of the time outside the key, was ", StringComparison.Ordinal));
        Assert.NotEqual(stamp, await File.ReadAllTextAsync(folder.At("out", "song.watch.js"), stop.Token));

        // Half a file is no score: it is said once, and the results stay.
        var before = await File.ReadAllTextAsync(folder.At("out", "song.chords.csv"), stop.Token);
        await File.WriteAllTextAsync(score, "<score-partwise><part-list>", stop.Token);
        await Until(() => Text(error, reported).Contains("song.musicxml", StringComparison.Ordinal));
        Assert.Equal(before, await File.ReadAllTextAsync(folder.At("out", "song.chords.csv"), stop.Token));

        // A score that comes into the folder is found.
        File.Copy(Path.Combine(Places.TestData, "lamplight.musicxml"), folder.At("cues", "second.musicxml"));
        await Until(() => Text(output, printed).Contains("second.musicxml", StringComparison.Ordinal));

        await stop.CancelAsync();
        Assert.Equal(0, await watching);
    }

    [Fact]
    public void Where_there_is_nothing_to_watch_it_ends_with_an_error()
    {
        using var folder = new ScratchFolder();
        var (status, _, error) = ScratchFolder.Run("watch", folder.At("nothing.musicxml"));
        Assert.Equal(3, status);
        Assert.Contains("no such file", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_is_one_line_with_what_it_was()
    {
        var (plain, coloured) = (Balance("1m1-morning-at-vell"), Balance("2m1-the-storm-stair"));
        Assert.Equal(
            "37.5 % of the time outside the key, was 0 %; above 20-30 %, was below; secondary-dominant 18.8 %, was 0 %; "
            + "augmented-sixth 9.4 %, was 0 %; neapolitan 6.3 %, was 0 %",
            BalanceChange.Of(plain, coloured));
        Assert.Equal("37.5 % of the time outside the key, as before", BalanceChange.Of(coloured, coloured));

        static CueDensity Balance(string cue) =>
            CueDensity.Of(CueAnalysis.Of(ScoreFile.Load(Path.Combine(Places.TestData, "cues", cue + ".musicxml")).Score), Band.Default);
    }

    // A synchronized writer locks itself while it writes.
    private static string Text(TextWriter writer, StringWriter written)
    {
        lock (writer) return written.ToString();
    }

    private static async Task Until(Func<bool> holds)
    {
        for (var i = 0; i < 600 && !holds(); i++) await Task.Delay(100, TestContext.Current.CancellationToken);
        Assert.True(holds());
    }
}
