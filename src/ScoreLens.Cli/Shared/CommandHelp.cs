using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace ScoreLens.Cli.Shared;

/// <summary>A command whose help ends with examples, each a command line that works.</summary>
internal sealed class DocumentedCommand(string name, string description, params string[] examples) : Command(name, description)
{
    /// <summary>The examples, without the program's name: <c>annotate song.mxl --out results</c>.</summary>
    public IReadOnlyList<string> Examples { get; } = examples;
}

/// <summary>Help as the library writes it, then the command's examples; the root shows the first example of every command.</summary>
internal sealed class CommandHelp(HelpAction help) : SynchronousCommandLineAction
{
    private const string Program = "scorelens";

    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <summary>The command as it is typed: <c>scorelens annotate</c>.</summary>
    public static string FullName(Command command) => command is RootCommand ? Program : $"{Program} {command.Name}";

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        help.Invoke(parseResult);
        var output = parseResult.InvocationConfiguration.Output;
        var command = parseResult.CommandResult.Command;
        string[] examples = command switch
        {
            DocumentedCommand documented => [.. documented.Examples],
            _ => [.. command.Subcommands.OfType<DocumentedCommand>().SelectMany(c => c.Examples.Take(1))],
        };
        output.WriteLine(examples.Length == 1 ? "Example:" : "Examples:");
        foreach (var example in examples) output.WriteLine($"  {Program} {example}");
        if (command is not RootCommand) return ExitStatus.Done;
        output.WriteLine();
        output.WriteLine("Exit status: 0 done; 1 done, and audit found a phrase outside the band or mark found a fault; 2 the "
            + "command line is wrong;");
        output.WriteLine("3 an input could not be read (the others were still processed); 130 stopped by Ctrl+C.");
        return ExitStatus.Done;
    }
}
