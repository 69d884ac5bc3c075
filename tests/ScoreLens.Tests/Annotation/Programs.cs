using System.ComponentModel;
using System.Diagnostics;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>Other programs of the machine; a test is skipped, with the reason, where one is not installed.</summary>
internal static class Programs
{
    private static readonly TimeSpan Limit = TimeSpan.FromMinutes(5);

    /// <summary>Runs a program in a folder and gives its exit status and all that it printed.</summary>
    public static (int Status, string Output) Run(string folder, string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["QT_QPA_PLATFORM"] = "offscreen";
        try
        {
            using var process = Process.Start(start)!;
            var errors = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEndAsync();
            if (!process.WaitForExit(Limit))
            {
                process.Kill(entireProcessTree: true);
                throw new TimeoutException($"{program} did not end.");
            }

            return (process.ExitCode, output.Result + errors.Result);
        }
        catch (Win32Exception)
        {
            Assert.Skip($"{program} is not installed.");
            throw;
        }
    }
}
