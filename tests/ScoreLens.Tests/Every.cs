using Xunit;

namespace ScoreLens.Tests;

/// <summary>Checks of each of several things, of which there must be some: where there are none, nothing was checked.</summary>
internal static class Every
{
    /// <summary>Checks every item, of which there must be at least one.</summary>
    public static void Item<T>(IEnumerable<T> items, Action<T> check)
    {
        var all = items.ToArray();
        Assert.NotEmpty(all);
        Assert.All(all, check);
    }
}
