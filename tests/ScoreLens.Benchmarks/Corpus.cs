namespace ScoreLens.Benchmarks;

/// <summary>A work of the evaluation corpus: a score with an expert's analysis beside it.</summary>
/// <param name="Name">Its folder below the corpus, with slashes.</param>
/// <param name="Folder">Its folder.</param>
internal sealed record Work(string Name, string Folder)
{
    public string Score => Path.Combine(Folder, "score.mxl");

    public string Reference => Path.Combine(Folder, "reference.csv");

    /// <summary>The folder that holds it and the works of its kind: <c>open/chorales</c>.</summary>
    public string Repertoire => Name.Contains('/', StringComparison.Ordinal) ? Name[..Name.LastIndexOf('/')] : "";
}

/// <summary>The evaluation corpus, which lies beside the repository and is no part of it.</summary>
internal static class Corpus
{
    /// <summary>Where the corpus is looked for where nothing is said: <c>../shared/corpus</c> seen from the repository.</summary>
    public static string DefaultFolder { get; } = Path.GetFullPath(Path.Combine(RepositoryRoot(), "..", "shared", "corpus"));

    /// <summary>The works of a folder in a fixed order.</summary>
    /// <param name="folder">The corpus, or a part of it.</param>
    /// <param name="only">Takes works whose name holds this text; all where it is null.</param>
    /// <param name="sample">At most so many of each repertoire, spread evenly over it; all where it is 0.</param>
    /// <param name="chosen">Takes works of which this is true; all where it is null.</param>
    public static IReadOnlyList<Work> Works(string folder, string? only, int sample, Func<Work, bool>? chosen = null)
    {
        var works = Directory.EnumerateFiles(folder, "reference.csv", SearchOption.AllDirectories)
            .Select(path => Path.GetDirectoryName(path)!)
            .Where(path => File.Exists(Path.Combine(path, "score.mxl")))
            .Select(path => new Work(Path.GetRelativePath(folder, path).Replace(Path.DirectorySeparatorChar, '/'), path))
            .Where(work => only is null || work.Name.Contains(only, StringComparison.Ordinal))
            .Where(work => chosen is null || chosen(work))
            .OrderBy(work => work.Name, StringComparer.Ordinal);
        return [.. works.GroupBy(work => work.Repertoire).SelectMany(group => Spread([.. group], sample))];
    }

    /// <summary>The folder that holds the solution, from where the program lies or is run.</summary>
    public static string RepositoryRoot()
    {
        foreach (var start in (string[])[AppContext.BaseDirectory, Directory.GetCurrentDirectory()])
        {
            for (var folder = new DirectoryInfo(start); folder is not null; folder = folder.Parent)
                if (File.Exists(Path.Combine(folder.FullName, "ScoreLens.sln"))) return folder.FullName;
        }

        return Directory.GetCurrentDirectory();
    }

    private static IEnumerable<Work> Spread(IReadOnlyList<Work> works, int sample)
    {
        if (sample == 0 || sample >= works.Count) return works;
        return Enumerable.Range(0, sample).Select(i => works[(int)((long)i * works.Count / sample)]);
    }
}
