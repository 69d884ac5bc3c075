using System.CommandLine;
using System.CommandLine.Help;
using ScoreLens.Cli.Commands;
using ScoreLens.Cli.Shared;

namespace ScoreLens.Cli;

/// <summary>The whole command line: the commands, their help, and the exit status of a run.</summary>
internal static class CommandLine
{
    private const string Job =
        "ScoreLens reads a score and finds every chord, local key, Roman numeral and chromatic device in it, judges how each "
        + "device resolves, writes the labels into the score, and reports how much of the music lies outside the key. An "
        + "analysis is a reading, not a verdict: the teacher decides.";

    /// <summary>The root command with every command in the order in which help lists them.</summary>
    public static RootCommand Create()
    {
        var root = new RootCommand(Job);
        root.Add(AnnotateCommand.Create());
        root.Add(ExplainCommand.Create());
        root.Add(AuditCommand.Create());
        root.Add(CompareCommand.Create());
        root.Add(MarkCommand.Create());
        root.Add(ReharmoniseCommand.Create());
        root.Add(ReduceCommand.Create());
        root.Add(WatchCommand.Create());
        foreach (var option in root.Options.OfType<HelpOption>()) option.Action =
            new CommandHelp(option.Action as HelpAction ?? new HelpAction());
        return root;
    }

    /// <summary>Parses and runs a command line. Results go to <paramref name="output"/>, the rest to <paramref name="error"/>.</summary>
    /// <returns>An <see cref="ExitStatus"/>.</returns>
    public static int Run(IReadOnlyList<string> args, TextWriter output, TextWriter error)
    {
        var parse = Create().Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parse.Action is not { ClearsParseErrors: true } && parse.Errors.Count > 0)
        {
            foreach (var problem in parse.Errors) error.WriteLine($"scorelens: {problem.Message}");
            error.WriteLine($"'{CommandHelp.FullName(parse.CommandResult.Command)} --help' shows what it takes.");
            return ExitStatus.WrongCommandLine;
        }

        try
        {
            return parse.Invoke(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false });
        }
        catch (UsageException e)
        {
            error.WriteLine($"scorelens: {e.Message}");
            return ExitStatus.WrongCommandLine;
        }
        catch (OperationCanceledException e)
        {
            error.WriteLine($"scorelens: {e.Message}");
            return ExitStatus.Stopped;
        }
        catch (Exception e) when (Failures.Describe(e) is { } message)
        {
            error.WriteLine($"scorelens: {message}");
            return ExitStatus.Unreadable;
        }
    }
}
