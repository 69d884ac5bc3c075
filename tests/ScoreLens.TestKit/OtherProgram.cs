using System.ComponentModel;
using System.Diagnostics;

namespace ScoreLens.TestKit;

/// <summary>Other programs of the machine, which read and engrave what we write.</summary>
public static class OtherProgram
{
    private static readonly TimeSpan Limit = TimeSpan.FromMinutes(5);

    /// <summary>Runs a program in a folder.</summary>
    /// <returns>Its exit status and all that it printed; null where it is not installed.</returns>
    /// <exception cref="TimeoutException">It did not end within five minutes and was ended.</exception>
    public static (int Status, string Output)? Run(string folder, string program, params string[] arguments)
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
            return null;
        }
    }
}
