using ScoreLens.Training;

namespace ScoreLens.TestKit.Corpus;

/// <summary>
/// Folders of analysed works: those of <c>tests/external/works</c>, which every clone has, and the evaluation corpus beside the
/// repository, of which they are a part.
/// </summary>
internal static class CorpusWorks
{
    /// <summary>The works that lie in the repository: some of those that the model did not learn from.</summary>
    public static string Vendored { get; } = Places.External("works");

    /// <summary>The evaluation corpus beside the repository, or null where it is absent.</summary>
    public static string? Beside { get; } = Places.SharedOrNull("corpus");

    /// <summary>The evaluation corpus where it is at hand, otherwise the works of the repository.</summary>
    public static string DefaultFolder { get; } = Beside ?? Vendored;

    /// <summary>The works of a folder in a fixed order, named from the corpus that the folder belongs to.</summary>
    /// <param name="folder">A corpus, or a part of it.</param>
    /// <param name="only">Takes works whose name holds this text; all where it is null.</param>
    /// <param name="sample">At most so many of each repertoire, spread evenly over it; all where it is 0.</param>
    /// <param name="chosen">Takes works of which this is true; all where it is null.</param>
    public static IReadOnlyList<CorpusWork> In(string folder, string? only = null, int sample = 0, Func<CorpusWork, bool>? chosen = null)
    {
        var prefix = Path.GetRelativePath(Top(folder), folder).Replace(Path.DirectorySeparatorChar, '/');
        var works = CorpusWork.All(folder)
            .Select(work => prefix == "." ? work : work with { Name = $"{prefix}/{work.Name}" })
            .Where(work => only is null || work.Name.Contains(only, StringComparison.Ordinal))
            .Where(work => chosen is null || chosen(work));
        return [.. works.GroupBy(Group).SelectMany(group => Spread([.. group], sample))];
    }

    /// <summary>The folder that holds a work and the works of its kind: <c>open/chorales</c>.</summary>
    public static string Group(this CorpusWork work) =>
        work.Name.Contains('/', StringComparison.Ordinal) ? work.Name[..work.Name.LastIndexOf('/')] : "";

    /// <summary>The expert's table.</summary>
    public static string ReferencePath(this CorpusWork work) => Path.Combine(work.Folder, "reference.csv");

    /// <summary>The folder above a part of a corpus that holds the corpus's parts; the folder itself where it belongs to none.</summary>
    public static string Top(string folder)
    {
        for (var above = new DirectoryInfo(folder); above is not null; above = above.Parent)
            if (Directory.Exists(Path.Combine(above.FullName, "open"))) return above.FullName;
        return folder;
    }

    /// <summary>At most so many of some things, spread evenly over them; all where it is 0.</summary>
    public static IEnumerable<T> Spread<T>(IReadOnlyList<T> works, int sample)
    {
        if (sample == 0 || sample >= works.Count) return works;
        return Enumerable.Range(0, sample).Select(i => works[(int)((long)i * works.Count / sample)]);
    }
}
