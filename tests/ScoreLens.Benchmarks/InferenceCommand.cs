using System.CommandLine;
using System.Globalization;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;

namespace ScoreLens.Benchmarks;

/// <summary>
/// What the learned model costs: processor time and memory for a hundred verticals, step by step, on the invented score. Processor
/// time is that of all cores together.
/// </summary>
internal static class InferenceCommand
{
    private const int Runs = 5;

    public static Command Create()
    {
        var measures = new Option<int>("--measures") { Description = "Length of the invented score.", DefaultValueFactory = _ => 200 };
        var weights = new Option<FileInfo>("--weights") { Description = "A weights file in place of the library's own." };
        var command = new Command("inference", "Processor time and memory of the learned model for a hundred verticals.") { measures,
            weights };
        command.SetAction(parse =>
        {
            var score = ScoreFile.Parse(InventedScore.Write(parse.GetValue(measures))).Score;
            var sonorities = SonorityFinder.Find(score);
            var model = parse.GetValue(weights) is { } file ? ReadingModel.Parse(File.ReadAllBytes(file.FullName)) : ReadingModel.Default;
            var (rows, signatures) = SonorityFeatures.Of(score, sonorities, new GroupingEvidence(score, sonorities));
            var output = model.Run(rows, sonorities);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{rows.Length} verticals, median of {Runs} runs, for a hundred verticals"));
            Time("features", rows.Length, () => SonorityFeatures.Of(score, sonorities, new GroupingEvidence(score, sonorities)));
            Time("networks", rows.Length, () => model.Run(rows, sonorities));
            Time("search", rows.Length, () => HarmonicReader.Hear(model, ReadingSettings.Default, output, signatures, score, sonorities));
            return 0;
        });
        return command;
    }

    private static void Time(string name, int verticals, Action work)
    {
        work();
        var times = new double[Runs];
        long bytes = 0;
        for (var run = 0; run < Runs; run++)
        {
            var before = GC.GetTotalAllocatedBytes(precise: true);
            var spent = Environment.CpuUsage.TotalTime;
            work();
            times[run] = (Environment.CpuUsage.TotalTime - spent).TotalMilliseconds * 100 / verticals;
            bytes = GC.GetTotalAllocatedBytes(precise: true) - before;
        }

        Array.Sort(times);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{name,-9} {times[Runs / 2],7:0.00} ms {bytes * 100.0 / verticals / 1024,9:0} KiB"));
    }
}
