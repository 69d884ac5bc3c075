using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.TestKit.Corpus;

namespace ScoreLens.Benchmarks;

/// <summary>
/// Speed against what cannot be avoided, so that figures of one run can be compared: a whole process against one that does nothing, and the
/// way from bytes to results against loading the same XML. The way through one process is told in processor time, so that other work on the
/// machine counts for little.
/// </summary>
internal static class RatiosCommand
{
    /// <summary>The word with which this program ends at once.</summary>
    public const string Nothing = "nothing";

    private const int Runs = 7;
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(5);

    public static Command Create()
    {
        var programs = new Option<string[]>("--program")
        {
            Description = "A build of the command line to measure as a process: an executable, or a .dll that dotnet runs (may be "
                + "repeated).",
            HelpName = "FILE",
            DefaultValueFactory = _ => [],
        };
        var folder = new Option<string?>("--scores")
        {
            Description = "Scores to read, analyse and write in this process, each against loading its XML.",
            HelpName = "DIR",
        };
        var sample = new Option<int>("--sample")
        {
            Description = "At most N scores, spread evenly; 0 for all.",
            DefaultValueFactory = _ => 30
        };
        var command = new Command("ratios", "Measures whole processes and the way through one process, as ratios of one run.")
        {
            programs, folder, sample,
        };
        command.SetAction(parse =>
        {
            if (parse.GetValue(programs) is { Length: > 0 } given) Processes(given);
            var scores = parse.GetValue(folder) is { } place ? Places.Scores(place)
                : CorpusWorks.In(CorpusWorks.Vendored).Select(w => w.ScorePath);
            InOneProcess([.. CorpusWorks.Spread([.. scores], parse.GetValue(sample))]);
            return 0;
        });
        return command;
    }

    private static void Processes(string[] programs)
    {
        var chorale = Path.Combine(CorpusWorks.Vendored, "open", "chorales");
        var score = Places.Scores(chorale).First();
        var results = Directory.CreateTempSubdirectory("scorelens-ratios-").FullName;
        var bare = Median(Environment.ProcessPath!, Environment.ProcessPath!.EndsWith("dotnet", StringComparison.Ordinal)
            ? [typeof(RatiosCommand).Assembly.Location, Nothing] : [Nothing]);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"a process that does nothing: {bare:0.000} s, median of {Runs}"));
        foreach (var program in programs)
        {
            var (file, first) = program.EndsWith(".dll", StringComparison.Ordinal) ? ("dotnet", (string[])[program]) : (program, []);
            foreach (var arguments in (string[][])[["--version"], ["--help"], ["annotate", score, "--out", results, "--quiet"]])
            {
                var seconds = Median(file, [.. first, .. arguments]);
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"{Path.GetFileName(program)} {arguments[0]}: {seconds:0.000} s, {seconds / bare:0.0} times"));
            }
        }

        Directory.Delete(results, recursive: true);
    }

    private static double Median(string program, string[] arguments)
    {
        var seconds = Enumerable.Range(0, Runs).Select(_ =>
        {
            var watch = Stopwatch.StartNew();
            using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true })
                ?? throw new InvalidOperationException($"{program} could not be started.");
            process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0 ? watch.Elapsed.TotalSeconds
                : throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }).Order().ToArray();
        return seconds[Runs / 2];
    }

    private static void InOneProcess(string[] scores)
    {
        // A warm process: what is called often is compiled anew in the meantime.
        for (var start = Environment.CpuUsage.TotalTime; Environment.CpuUsage.TotalTime - start < WarmUp;)
            foreach (var path in scores) Whole(path);
        var ratios = scores.Select(path =>
        {
            var xml = MusicXmlDocument.Load(path).Xml.ToString();
            double Best(Action work) => Enumerable.Range(0, Runs).Min(_ =>
            {
                var before = Environment.CpuUsage.TotalTime;
                work();
                return (Environment.CpuUsage.TotalTime - before).TotalSeconds;
            });
            var load = Best(() => XDocument.Parse(xml));
            var all = Best(() => Whole(path));
            return (Load: load, All: all, Ratio: all / load);
        }).ToArray();
        var ordered = ratios.Select(r => r.Ratio).Order().ToArray();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{scores.Length} scores: read, analysed and written in {ratios.Sum(r => r.All):0.00} s; loading the same XML takes "
            + $"{ratios.Sum(r => r.Load):0.00} s; median {ordered[ordered.Length / 2]:0.0} times, worst {ordered[^1]:0.0} times"));
    }

    private static void Whole(string path)
    {
        var file = ScoreFile.Load(path);
        var analysis = CueAnalysis.Of(file.Score);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(analysis), text);
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), text);
        if (file.MusicXml is { } document) AnnotatedScore.Write(document, analysis, LabelOptions.Default);
    }
}
