namespace ScoreLens.Cli.Shared;

/// <summary>The exit statuses that every command keeps to.</summary>
internal static class ExitStatus
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>Done; the audit found a phrase outside the band, or the marking found faults.</summary>
    public const int Found = 1;

    /// <summary>The command line is wrong.</summary>
    public const int WrongCommandLine = 2;

    /// <summary>An input could not be read, or a result not written; the others were still done.</summary>
    public const int Unreadable = 3;

    /// <summary>Stopped from outside before all was done: 128 and the number of the signal, as shells have it.</summary>
    public const int Stopped = 130;
}

/// <summary>
/// The command line is wrong in a way that only shows once the inputs are known; within the work on one input, it does not fit that one.
/// </summary>
/// <param name="message">What is wrong, and what to do.</param>
/// <param name="isOfRun">Whether it is wrong whatever the other inputs are: an output folder in which an input would be written
/// over.</param>
internal sealed class UsageException(string message, bool isOfRun = false) : Exception(message)
{
    /// <summary>Whether it is wrong whatever the other inputs are.</summary>
    public bool IsOfRun { get; } = isOfRun;
}
