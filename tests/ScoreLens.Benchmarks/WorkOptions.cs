using System.CommandLine;
using ScoreLens.TestKit.Corpus;

namespace ScoreLens.Benchmarks;

/// <summary>Which works of a corpus a benchmark takes: said alike by all that measure works.</summary>
internal static class WorkOptions
{
    public static Argument<string> Corpus() => new("CORPUS")
    {
        Description = "A folder of works, each a score.mxl and a reference.csv.",
        DefaultValueFactory = _ => CorpusWorks.DefaultFolder,
    };

    public static Option<string?> Only() => new("--only") { Description = "Works whose path holds TEXT.", HelpName = "TEXT" };

    public static Option<int> Sample() => new("--sample")
    {
        Description = "At most N works of each repertoire, spread evenly; 0 for all.",
        HelpName = "N",
    };

    public static Option<bool> Each() => new("--each") { Description = "Print a line a work too." };
}
