using System.Globalization;
using ScoreLens.Cli;

namespace ScoreLens.Tests.Cli;

/// <summary>A folder of its own for one test, gone afterwards, and the command line run as a user runs it.</summary>
internal sealed class ScratchFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("scorelens-test-");

    public string Root => _folder.FullName;

    public string At(params string[] parts) => Path.Combine([Root, .. parts]);

    /// <summary>Copies one of our scores here.</summary>
    public string Score(params string[] name)
    {
        var place = At(name);
        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        File.Copy(Path.Combine(Places.TestData, "lamplight.musicxml"), place);
        return place;
    }

    /// <summary>Every file below the folder, as paths with slashes, in order.</summary>
    public IReadOnlyList<string> Files() =>
        [.. Directory.EnumerateFiles(Root, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(Root, f).Replace('\\', '/'))
            .Order(StringComparer.Ordinal)];

    public static (int Status, string Output, string Error) Run(params string[] args)
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        using var error = new StringWriter(CultureInfo.InvariantCulture);
        var status = CommandLine.Run(args, output, error);
        return (status, output.ToString(), error.ToString());
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
