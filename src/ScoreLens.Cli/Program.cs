using ScoreLens.Cli;

return CommandLine.Run(args, Console.Out, Console.Error);
