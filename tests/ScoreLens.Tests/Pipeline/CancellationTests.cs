using System.Diagnostics;
using ScoreLens.Density;
using ScoreLens.Grouping;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi.Spelling;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Tables;
using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Search;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;
using ScoreLens.Sonorities;
using ScoreLens.Tests.Annotation;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Pipeline;

/// <summary>Whoever gives up waiting is not kept waiting: reading and analysing stop, and nothing is left half done.</summary>
public sealed class CancellationTests
{
    private static readonly string Lamplight = Path.Combine(Places.TestData, "lamplight.musicxml");

    private static readonly CancellationToken Cancelled = new(canceled: true);

    [Fact]
    public void A_score_is_not_opened_once_it_is_given_up()
    {
        Assert.Throws<OperationCanceledException>(() => ScoreFile.Load(Lamplight, cancellationToken: Cancelled));
        Assert.Throws<OperationCanceledException>(() => ScoreFile.Parse(File.ReadAllBytes(Lamplight), cancellationToken: Cancelled));
        using var stream = File.OpenRead(Lamplight);
        Assert.Throws<OperationCanceledException>(() => ScoreFile.Load(stream, cancellationToken: Cancelled));
    }

    [Fact]
    public void Reading_stops_between_two_elements_and_between_two_measures()
    {
        using var giveUp = new CancellationTokenSource();
        using var slow = new StreamThatIsGivenUp(File.ReadAllBytes(Lamplight), 2000, giveUp);
        Assert.Throws<OperationCanceledException>(() => ScoreFile.Load(slow, cancellationToken: giveUp.Token));
        Assert.True(slow.Position < slow.Length);

        var document = ScoreFile.Load(Lamplight).MusicXml!;
        Assert.Throws<OperationCanceledException>(() => MusicXmlReader.Read(document, null, Cancelled));
    }

    [Fact]
    public void Every_stage_that_takes_time_stops()
    {
        var score = ScoreFile.Load(Lamplight).Score;
        Assert.Throws<OperationCanceledException>(() => CueAnalysis.Of(score, cancellationToken: Cancelled));

        var sonorities = SonorityFinder.Find(score);
        var grouping = new GroupingEvidence(score, sonorities);
        Assert.Throws<OperationCanceledException>(() => SonorityFeatures.Of(score, sonorities, grouping, Cancelled));
        var (rows, signatures) = SonorityFeatures.Of(score, sonorities, grouping);
        var model = ReadingModel.Default;
        Assert.Throws<OperationCanceledException>(() => model.Run(rows, sonorities, Cancelled));
        var output = model.Run(rows, sonorities);
        Assert.Throws<OperationCanceledException>(() =>
            ReadingDecoder.Decode(model, ReadingSettings.Default, output, signatures, sonorities, Cancelled));
    }

    [Fact]
    public void Spelling_the_notes_of_a_midi_file_stops() =>
        Assert.Throws<OperationCanceledException>(() => PitchSpeller.Spell([new UnspelledNote(0, 1, 0, 60, null)], null, Cancelled));

    [Fact]
    public void Whatever_is_asked_of_a_reharmoniser_stops()
    {
        var reharmoniser = new Reharmoniser(CueAnalysis.Of(ScoreFile.Load(Lamplight).Score), Band.Default, cancellationToken: Cancelled);
        Assert.Throws<OperationCanceledException>(() => reharmoniser.At(8));
        Assert.Throws<OperationCanceledException>(() => reharmoniser.BestOfEach(1));
        Assert.Throws<OperationCanceledException>(() => new SetSearch(reharmoniser, Band.Default).Find(0, 16, ColourWish.More));
    }

    [Fact]
    public void A_long_analysis_stops_on_its_way_and_leaves_nothing_behind()
    {
        var score = ScoreFile.Load(Lamplight).Score;
        var before = Table(CueAnalysis.Of(score));
        using var giveUp = new CancellationTokenSource(TimeSpan.FromMilliseconds(50));
        Assert.ThrowsAny<OperationCanceledException>(() =>
        {
            // Longer than any machine needs for the first fifty milliseconds.
            for (var i = 0; i < 10_000; i++) CueAnalysis.Of(score, cancellationToken: giveUp.Token);
        });
        Assert.Equal(before, Table(CueAnalysis.Of(score)));
    }

    [Fact]
    public void Marking_is_given_up_with_an_exception_and_not_with_a_mark()
    {
        var homework = Path.Combine(Places.TestData, "homework", "assignment.yaml");
        var marker = new Marker(AssignmentFile.Load(homework));
        Assert.ThrowsAny<OperationCanceledException>(() => marker.MarkFile("anyone", Lamplight, Cancelled));
    }

    [Fact]
    public async Task A_run_that_is_stopped_says_what_it_finished_and_writes_nothing_half()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no signal that one program sends another.");
        using var folder = new ScratchFolder();
        Directory.CreateDirectory(folder.At("cues"));
        for (var i = 0; i < 400; i++) File.Copy(Lamplight, folder.At("cues", $"cue{i:000}.musicxml"));

        var program = Path.Combine(AppContext.BaseDirectory, "ScoreLens.Cli.dll");
        var start = new ProcessStartInfo("dotnet", [program, "annotate", folder.At("cues"), "--jobs", "1", "--out", folder.At("out")])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        Assert.NotNull(await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken));
        Programs.Run(folder.Root, "kill", "-TERM", $"{process.Id}");
        await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);

        var finished = Directory.GetFiles(folder.At("out"), "*.annotated.musicxml").Length;
        Assert.InRange(finished, 1, 399);
        Assert.Equal(130, process.ExitCode);
        Assert.Equal($"scorelens: stopped; {finished} of 400 inputs were finished, and nothing is half written.", (await errors).Trim());
        Assert.Empty(Directory.GetDirectories(folder.At("out")));
        Assert.All((string[])["*.chords.csv", "*.phrases.csv", "*.page.html"],
            results => Assert.Equal(finished, Directory.GetFiles(folder.At("out"), results).Length));
    }

    private static string Table(CueAnalysis analysis)
    {
        using var text = new StringWriter();
        ChordTable.Write(ChordRow.Of(analysis), text);
        return text.ToString();
    }

    // Gives a few bytes at a time, and is given up after some of them.
    private sealed class StreamThatIsGivenUp(byte[] bytes, int after, CancellationTokenSource giveUp) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;

        public override int Read(Span<byte> buffer)
        {
            if (Position > after) giveUp.Cancel();
            return base.Read(buffer[..Math.Min(buffer.Length, 500)]);
        }
    }
}
