using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>Other programs of the machine; a test is skipped, with the reason, where one is not installed.</summary>
internal static class Programs
{
    /// <summary>Runs a program in a folder and gives its exit status and all that it printed.</summary>
    public static (int Status, string Output) Run(string folder, string program, params string[] arguments)
    {
        if (OtherProgram.Run(folder, program, arguments) is { } run) return run;
        Assert.Skip($"{program} is not installed.");
        return default;
    }
}
