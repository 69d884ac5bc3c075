namespace ScoreLens.Cli.Marking;

/// <summary>Result files of submissions that an earlier run left in a folder.</summary>
internal static class EarlierResults
{
    /// <summary>The feedback pages and marked scores in a folder that are not among those written now, as paths below it.</summary>
    public static IReadOnlyList<string> In(string folder, IReadOnlyCollection<string> written)
    {
        var now = written.ToHashSet(StringComparer.OrdinalIgnoreCase);
        return
        [
            .. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
                .Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/'))
                .Where(f => IsResult(f) && !now.Contains(f)).Order(StringComparer.Ordinal),
        ];
    }

    private static bool IsResult(string path) =>
        path.EndsWith(".feedback.html", StringComparison.OrdinalIgnoreCase)
        || Path.GetFileNameWithoutExtension(path).EndsWith(".marked", StringComparison.OrdinalIgnoreCase);
}
