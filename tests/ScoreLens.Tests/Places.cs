using Xunit;

namespace ScoreLens.Tests;

/// <summary>Where the repository's own files lie, and the shared material beside it that is no part of it.</summary>
internal static class Places
{
    /// <summary>The repository.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Our own invented scores.</summary>
    public static string TestData { get; } = Path.Combine(Root, "testdata");

    /// <summary>A file or folder of <c>../shared</c>; the test is skipped, with the reason, where it is absent.</summary>
    public static string Shared(params string[] path)
    {
        var place = Path.GetFullPath(Path.Combine([Root, "..", "shared", .. path]));
        Assert.SkipUnless(Path.Exists(place), $"../shared/{string.Join('/', path)} is not there; it is no part of the repository.");
        return place;
    }

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "ScoreLens.sln"))) return folder.FullName;
        throw new InvalidOperationException("The tests do not lie inside the repository.");
    }
}
