using System.Collections.Concurrent;
using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using ScoreLens.TestKit.Fuzzing;

namespace ScoreLens.Benchmarks.Fuzzing;

/// <summary>
/// Changes real files at random, as trees, lines and bytes, and takes each all the way: it is read or refused with a reason, in time. What
/// breaks is kept, and is made again from its seed.
/// </summary>
internal static class FuzzCommand
{
    public static Command Create()
    {
        var seeds = new Option<int>("--seeds") { Description = "Mutants of each kind.", HelpName = "N", DefaultValueFactory = _ => 1000 };
        var first = new Option<int>("--first") { Description = "The first seed.", HelpName = "N" };
        var kinds = new Option<MutantKind[]>("--kind")
        {
            Description = "Kinds of files (may be repeated); all where it is left out.",
            DefaultValueFactory = _ => Enum.GetValues<MutantKind>(),
        };
        var seconds = new Option<int>("--seconds")
        {
            Description = "Stop after N seconds, whatever is left; 0 for no limit.",
            HelpName = "N",
        };
        var keep = new Option<string>("--keep")
        {
            Description = "Where mutants that break something are kept.",
            HelpName = "DIR",
            DefaultValueFactory = _ => Path.Combine(Places.Root, "artifacts", "mutants"),
        };
        var jobs = new Option<int>("--jobs") { Description = "Mutants at a time.", DefaultValueFactory = _ => Environment.ProcessorCount };
        var command = new Command("fuzz", "Changes files at random: each must be read, or refused with a reason, in time.")
        {
            seeds, first, kinds, seconds, keep, jobs,
        };
        command.SetAction(parse => Run(
            parse.GetRequiredValue(kinds), Enumerable.Range(parse.GetValue(first), parse.GetValue(seeds)), parse.GetValue(seconds),
            parse.GetRequiredValue(keep), parse.GetValue(jobs)));
        return command;
    }

    private static int Run(MutantKind[] kinds, IEnumerable<int> seeds, int seconds, string folder, int jobs)
    {
        var factory = new MutantFactory();
        var counts = new ConcurrentDictionary<(MutantKind, Outcome), int>();
        var watch = Stopwatch.StartNew();
        var options = new ParallelOptions { MaxDegreeOfParallelism = jobs };
        Parallel.ForEach(seeds.SelectMany(seed => kinds.Select(kind => (Kind: kind, Seed: seed))), options, (next, state) =>
        {
            if (seconds > 0 && watch.Elapsed.TotalSeconds > seconds)
            {
                state.Stop();
                return;
            }

            var mutant = factory.Make(next.Kind, next.Seed);
            var (outcome, what) = Ordeal.Run(mutant);
            counts.AddOrUpdate((next.Kind, outcome), 1, (_, count) => count + 1);
            if (outcome is Outcome.Broken or Outcome.Hung) Keep(mutant, outcome, what, folder);
        });
        foreach (var kind in kinds)
        {
            var outcomes = Enum.GetValues<Outcome>()
                .Select(o => $"{counts.GetValueOrDefault((kind, o))} {o.ToString().ToLowerInvariant()}");
            Console.WriteLine($"{kind}: {string.Join(", ", outcomes)}");
        }

        var total = counts.Values.Sum();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{total} mutants in {watch.Elapsed.TotalSeconds:0} s"));
        return counts.Keys.Any(k => k.Item2 is Outcome.Broken or Outcome.Hung) ? 1 : 0;
    }

    private static void Keep(Mutant mutant, Outcome outcome, string what, string folder)
    {
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, mutant.FileName);
        File.WriteAllBytes(path, mutant.Bytes);
        Console.WriteLine($"{outcome}: seed {mutant.Seed}, from {mutant.Source}, kept as {path}\n{what}");
    }
}
