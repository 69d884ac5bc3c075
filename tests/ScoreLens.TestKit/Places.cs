namespace ScoreLens.TestKit;

/// <summary>Where the repository's own files lie, and the shared material beside it that is no part of it.</summary>
internal static class Places
{
    /// <summary>The repository.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Our own invented scores.</summary>
    public static string TestData { get; } = Path.Combine(Root, "testdata");

    /// <summary>A file or folder of <c>tests/external</c>: what others made, with its licence and source beside it.</summary>
    public static string External(params string[] path) => Path.Combine([Root, "tests", "external", .. path]);

    /// <summary>A file or folder of <c>../shared</c>, seen from the repository; null where it is absent.</summary>
    public static string? SharedOrNull(params string[] path)
    {
        var place = Path.GetFullPath(Path.Combine([Root, "..", "shared", .. path]));
        return Path.Exists(place) ? place : null;
    }

    /// <summary>Every score file below a folder, in a fixed order.</summary>
    public static IEnumerable<string> Scores(string folder) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .Where(f => Path.GetExtension(f) is ".xml" or ".musicxml" or ".mxl")
        .Order(StringComparer.Ordinal);

    private static string FindRoot()
    {
        foreach (var start in (string[])[AppContext.BaseDirectory, Directory.GetCurrentDirectory()])
        {
            for (var folder = new DirectoryInfo(start); folder is not null; folder = folder.Parent)
                if (File.Exists(Path.Combine(folder.FullName, "ScoreLens.sln"))) return folder.FullName;
        }

        throw new InvalidOperationException("The program neither lies nor runs inside the repository.");
    }
}
