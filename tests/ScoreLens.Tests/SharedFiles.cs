using Xunit;

namespace ScoreLens.Tests;

/// <summary>
/// What lies beside the repository, for the larger runs; a test that needs it is skipped, with the reason, where it is absent.
/// </summary>
internal static class SharedFiles
{
    /// <summary>A file or folder of <c>../shared</c>, seen from the repository.</summary>
    public static string At(params string[] path)
    {
        var place = Places.SharedOrNull(path);
        Assert.SkipWhen(place is null, $"../shared/{string.Join('/', path)} is not beside the repository; it is no part of it.");
        return place!;
    }
}
