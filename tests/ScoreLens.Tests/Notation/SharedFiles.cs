using Xunit;

namespace ScoreLens.Tests.Notation;

/// <summary>The files beside the repository; a test that needs them is skipped where they are absent.</summary>
internal static class SharedFiles
{
    /// <summary>A folder or file below <c>../shared</c>, seen from the repository.</summary>
    public static string Path(string relative)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (!File.Exists(System.IO.Path.Combine(folder.FullName, "ScoreLens.sln"))) continue;
            var path = System.IO.Path.GetFullPath(System.IO.Path.Combine(folder.FullName, "..", "shared", relative));
            Assert.SkipUnless(File.Exists(path) || Directory.Exists(path), $"../shared/{relative} is not beside the repository.");
            return path;
        }

        Assert.Skip("The tests do not run inside the repository.");
        return "";
    }
}
