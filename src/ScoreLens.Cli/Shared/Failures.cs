using ScoreLens.Notation;

namespace ScoreLens.Cli.Shared;

/// <summary>Turns what can go wrong with a file into one line: the place, what is wrong, what to do. Never a stack trace.</summary>
internal static class Failures
{
    /// <summary>
    /// One line about an exception; null for what is not about an input and stops the run (cancelling, a wrong command line).
    /// </summary>
    public static string? Describe(Exception exception) => exception switch
    {
        UsageException or OperationCanceledException => null,
        AggregateException { InnerExceptions: [var only] } => Describe(only),
        ScoreFormatException e => OneLine(e.ToDisplayString()),
        FileNotFoundException or DirectoryNotFoundException => "no such file or folder; check the path.",
        UnauthorizedAccessException => "no permission to read or write here; check the file's permissions.",
        PathTooLongException => "the path is too long; move the file to a shorter one.",
        IOException e => OneLine(e.Message),
        OutOfMemoryException => "not enough memory for a score of this size; try --jobs 1.",
        _ => $"the program failed on this input, which is a fault of the program ({exception.GetType().Name}: "
            + $"{OneLine(exception.Message)}); "
            + "please report it with the file.",
    };

    private static string OneLine(string text) => text.ReplaceLineEndings(" ").Trim();
}
