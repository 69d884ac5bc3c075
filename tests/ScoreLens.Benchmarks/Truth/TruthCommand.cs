using System.CommandLine;
using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.TestKit.Truth;

namespace ScoreLens.Benchmarks.Truth;

/// <summary>
/// Holds every sentence, next chord, resolution and device of the chord tables against the notes of the scores, repertoire by repertoire,
/// and counts what is wrong by kind.
/// </summary>
internal static class TruthCommand
{
    public static Command Create()
    {
        var folders = new Argument<string[]>("FOLDER")
        {
            Description = "Folders of scores; each folder that holds scores, or works in folders of their own, is a repertoire.",
            DefaultValueFactory = _ => [Places.TestData, Places.External("works")],
        };
        var sample = new Option<int>("--sample")
        {
            Description = "At most N scores of each repertoire, spread evenly; 0 for all.",
            HelpName = "N",
        };
        var list = new Option<FaultKind[]>("--list")
        {
            Description = "Print each fault of a kind (may be repeated).",
            HelpName = "KIND",
            DefaultValueFactory = _ => [],
        };
        var most = new Option<string[]>("--most")
        {
            Description = "Exit with 1 when faults of a kind are more in a thousand sentences: KIND=NUMBER, as Tone=3 (may be repeated).",
            HelpName = "KIND=NUMBER",
            DefaultValueFactory = _ => [],
        };
        var jobs = new Option<int>("--jobs") { Description = "Scores at a time.", DefaultValueFactory = _ => Environment.ProcessorCount };
        var command = new Command("truth", "Holds what the chord tables say against the notes, and counts what is wrong.")
        {
            folders, sample, list, most, jobs,
        };
        command.SetAction(parse => Run(
            parse.GetRequiredValue(folders), parse.GetValue(sample), parse.GetValue(list)!, parse.GetValue(most)!, parse.GetValue(jobs)));
        return command;
    }

    private static int Run(string[] folders, int sample, FaultKind[] listed, string[] limits, int jobs)
    {
        var all = new TruthCount("all");
        foreach (var (repertoire, scores) in folders.SelectMany(f => Repertoires(Path.GetFullPath(f))))
        {
            var count = new TruthCount(repertoire);
            foreach (var check in Spread(scores, sample).AsParallel().AsOrdered().WithDegreeOfParallelism(jobs).Select(Check))
            {
                if (check.Refused is not null) Console.WriteLine($"{check.Score} is refused: {check.Refused}");
                else count.Add(check.Sentences, check.Faults);
                foreach (var fault in check.Faults.Where(f => listed.Contains(f.Kind))) Console.WriteLine($"{check.Score}: {fault}");
            }

            Console.WriteLine(count);
            all.Add(count);
        }

        Console.WriteLine(all);
        var missed = limits.Where(l => !Holds(l, all)).ToArray();
        return missed.Length > 0 ? 1 : 0;
    }

    private static (string Score, int Sentences, IReadOnlyList<Fault> Faults, string? Refused) Check(string path)
    {
        var name = Path.Combine(Path.GetFileName(Path.GetDirectoryName(path)!), Path.GetFileName(path));
        try
        {
            var (sentences, faults) = TruthCheck.Run(CueAnalysis.Of(ScoreFile.Load(path).Score));
            return (name, sentences, faults, null);
        }
        catch (ScoreFormatException refused)
        {
            return (name, 0, [], refused.ToDisplayString());
        }
    }

    // A work's folder is no repertoire of its own.
    private static IEnumerable<(string Name, string[] Scores)> Repertoires(string folder) => Places.Scores(folder)
        .GroupBy(f => Path.GetFileName(f) == "score.mxl" ? Path.GetDirectoryName(Path.GetDirectoryName(f)!)! : Path.GetDirectoryName(f)!)
        .OrderBy(g => g.Key, StringComparer.Ordinal)
        .Select(g => (Path.GetRelativePath(Path.GetDirectoryName(folder)!, g.Key).Replace('\\', '/'), g.ToArray()));

    private static IEnumerable<string> Spread(string[] scores, int sample) => sample == 0 || sample >= scores.Length
        ? scores
        : Enumerable.Range(0, sample).Select(i => scores[(int)((long)i * scores.Length / sample)]);

    private static bool Holds(string limit, TruthCount all)
    {
        if (limit.Split('=') is not [var kind, var text] || !Enum.TryParse<FaultKind>(kind, ignoreCase: true, out var fault)
            || !double.TryParse(text, CultureInfo.InvariantCulture, out var most))
        {
            Console.WriteLine($"FAILED {limit}: no such limit");
            return false;
        }

        var share = all.PerThousand(fault);
        var verdict = share <= most ? "holds" : "FAILED";
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{verdict} {limit}: {share:0.0} in a thousand sentences"));
        return share <= most;
    }
}
