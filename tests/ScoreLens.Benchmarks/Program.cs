using System.CommandLine;
using ScoreLens.Benchmarks;

var root = new RootCommand("Measures ScoreLens: accuracy against expert analyses, the textbooks' worked examples, and speed.")
{
    AccuracyCommand.Create(),
    TextbooksCommand.Create(),
    SpeedCommand.Create(),
};
return root.Parse(args).Invoke();
