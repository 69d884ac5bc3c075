using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using BenchmarkDotNet.Running;

namespace ScoreLens.Benchmarks;

/// <summary>How long the stages take on an invented score: with BenchmarkDotNet, or once over for continuous integration.</summary>
internal static class SpeedCommand
{
    public static Command Create()
    {
        var quick = new Option<bool>("--quick")
        {
            Description = "Time each stage a few times and print the best, instead of a full "
            + "benchmark."
        };
        var measures = new Option<int>("--measures")
        {
            Description = "Length of the invented score of --quick.",
            DefaultValueFactory = _ =>
            400
        };
        var floor = new Option<double>("--floor")
        {
            Description = "With --quick: fail under so many measures a second for the whole way.",
            DefaultValueFactory = _ => 0
        };
        var command = new Command("speed", "Measures reading, analysing and writing on an invented score.") { quick, measures, floor };
        command.SetAction(parse =>
        {
            if (parse.GetValue(quick)) return Quick(parse.GetValue(measures), parse.GetValue(floor));
            BenchmarkRunner.Run<SpeedBenchmarks>();
            return 0;
        });
        return command;
    }

    private static int Quick(int measures, double floor)
    {
        var bench = new SpeedBenchmarks { Measures = measures };
        bench.Setup();
        var read = Time("read", measures, () => bench.Read());
        var analyse = Time("analyse", measures, () => bench.Analyse());
        var write = Time("write", measures, () => bench.Write());
        var speed = measures / (read + analyse + write).TotalSeconds;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"whole    {speed,10:0} measures a second"));
        if (speed >= floor) return 0;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"FAILED: under {floor:0} measures a second"));
        return 1;
    }

    private static TimeSpan Time(string name, int measures, Action work)
    {
        var best = TimeSpan.MaxValue;
        for (var run = 0; run < 3; run++)
        {
            var watch = Stopwatch.StartNew();
            work();
            if (watch.Elapsed < best) best = watch.Elapsed;
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{name,-8} {best.TotalMilliseconds,10:0.0} ms for {measures} measures"));
        return best;
    }
}
