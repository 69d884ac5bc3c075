using ScoreLens.Marking;

namespace ScoreLens.Cli.Shared;

/// <summary>A file to read, and where its results go.</summary>
/// <param name="Path">The file, as it was named on the command line or found in a folder that was.</param>
/// <param name="Name">NAME of its results, unique in <paramref name="Folder"/> within a run.</param>
/// <param name="Folder">Folder for its results; need not exist yet.</param>
internal sealed record ScoreInput(string Path, string Name, string Folder)
{
    /// <summary>The file's name with the folders in which it was found, below the one that the command line names.</summary>
    public string NameBelow { get; init; } = System.IO.Path.GetFileName(Path);
}

/// <summary>Finds the inputs that a command line names.</summary>
internal static class ScoreInputs
{
    /// <summary>How the names of our result folders end; such folders are never searched for inputs.</summary>
    internal const string ResultFolderSuffix = ".scorelens";

    /// <summary>
    /// Expands files and folders. A folder is searched through all its levels, in a fixed order, leaving out hidden files
    /// and results of ours; below <paramref name="outFolder"/> its levels are kept.
    /// </summary>
    /// <param name="arguments">The SCORE arguments.</param>
    /// <param name="outFolder">The folder of <c>--out</c>, or null for one beside each argument.</param>
    /// <param name="extensions">File name endings to take from folders, with the dot.</param>
    /// <param name="problem">Called with the argument and what is wrong with it, where it names nothing to read.</param>
    public static IReadOnlyList<ScoreInput> Expand(
        IEnumerable<string> arguments, string? outFolder, IReadOnlyCollection<string> extensions, Action<string, string> problem)
    {
        var inputs = new List<ScoreInput>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var argument in arguments)
        {
            if (Directory.Exists(argument))
            {
                var found = FilesIn(argument, extensions);
                var files = WithoutResults(argument, found);
                if (files.Count == 0)
                {
                    problem(argument, found.Count > 0
                        ? "the folder holds only scores that this program wrote, which are not taken from folders; name the files to "
                            + "read them all the same."
                        : $"the folder holds no score ({string.Join(' ', extensions.Except(SubmittedFile.OtherEndings))}).");
                }

                var root = outFolder ?? System.IO.Path.TrimEndingDirectorySeparator(System.IO.Path.GetFullPath(argument))
                    + ResultFolderSuffix;
                foreach (var file in files)
                    Add(file, System.IO.Path.Combine(root, System.IO.Path.GetRelativePath(argument,
                        System.IO.Path.GetDirectoryName(file)!)), System.IO.Path.GetRelativePath(argument, file));
            }
            else if (File.Exists(argument))
            {
                Add(argument, outFolder ?? System.IO.Path.Combine(
                    System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(argument))!,
                    System.IO.Path.GetFileNameWithoutExtension(argument) + ResultFolderSuffix), System.IO.Path.GetFileName(argument));
            }
            else
            {
                problem(argument, "no such file or folder; check the path.");
            }
        }

        return Unique(inputs);

        void Add(string path, string folder, string nameBelow)
        {
            if (seen.Add(RealPath.Of(path)))
                inputs.Add(new ScoreInput(path, System.IO.Path.GetFileNameWithoutExtension(path), System.IO.Path.GetFullPath(folder))
                {
                    NameBelow = nameBelow,
                });
        }
    }

    private static List<string> FilesIn(string folder, IReadOnlyCollection<string> extensions)
    {
        var options = new EnumerationOptions
        {
            AttributesToSkip = FileAttributes.Hidden | FileAttributes.System,
            IgnoreInaccessible = true
        };
        var found = new List<string>();
        foreach (var file in Directory.EnumerateFiles(folder, "*", options))
        {
            if (extensions.Any(e => file.EndsWith(e, StringComparison.OrdinalIgnoreCase))) found.Add(file);
        }

        found.Sort(StringComparer.Ordinal);
        foreach (var inner in Directory.EnumerateDirectories(folder, "*", options).Order(StringComparer.Ordinal))
        {
            // A link back up would never end; results of ours are no input.
            if (inner.EndsWith(ResultFolderSuffix, StringComparison.Ordinal) || new DirectoryInfo(inner).LinkTarget is not null) continue;
            found.AddRange(FilesIn(inner, extensions));
        }

        return found;
    }

    // What the program wrote into a folder of scores is no input of the next run: scores with something added at all, tables and scores
    // with the labels taken out where what they were made of is there too, beside them or at the same level of a folder that results were
    // sent to.
    private static List<string> WithoutResults(string folder, List<string> files)
    {
        var originals = new HashSet<(string Level, string Name)>();
        foreach (var file in files)
        {
            if (ResultFiles.SourceName(file) is not null) continue;
            originals.Add((Level(file), System.IO.Path.GetFileName(file)));
            originals.Add((Level(file), System.IO.Path.GetFileNameWithoutExtension(file)));
        }

        return [.. files.Where(f => !ResultFiles.IsScoreOfOurs(f)
            && (ResultFiles.SourceName(f) is not { } source || !IsThere(Level(f), source)))];

        string Level(string file) => System.IO.Path.GetRelativePath(folder, System.IO.Path.GetDirectoryName(file)!).Replace('\\', '/');

        bool IsThere(string level, string name)
        {
            if (originals.Contains((".", name)) || originals.Contains((level, name))) return true;
            for (var slash = level.IndexOf('/', StringComparison.Ordinal); slash >= 0; slash = level.IndexOf('/', slash + 1))
                if (originals.Contains((level[(slash + 1)..], name))) return true;
            return false;
        }
    }

    // Two inputs of one name and folder would write over each other: the ending, then a number, tells them apart.
    private static List<ScoreInput> Unique(List<ScoreInput> inputs)
    {
        var crowded = inputs.GroupBy(Place).Where(g => g.Count() > 1).Select(g => g.Key).ToHashSet(StringComparer.Ordinal);
        var taken = new HashSet<string>(StringComparer.Ordinal);
        var unique = new List<ScoreInput>(inputs.Count);
        foreach (var input in inputs)
        {
            var name = crowded.Contains(Place(input)) ? System.IO.Path.GetFileName(input.Path) : input.Name;
            var candidate = input with { Name = name };
            for (var number = 2; !taken.Add(Place(candidate)); number++) candidate = input with { Name = $"{name}-{number}" };
            unique.Add(candidate);
        }

        return unique;

        // File systems that do not tell case apart would let names that differ in case alone collide.
        static string Place(ScoreInput input) => System.IO.Path.Combine(input.Folder, input.Name).ToUpperInvariant();
    }
}

/// <summary>A path with its links followed, to tell whether two paths mean one file.</summary>
internal static class RealPath
{
    /// <summary>The absolute path without links; parts that do not exist are kept as they are.</summary>
    public static string Of(string path)
    {
        var full = System.IO.Path.GetFullPath(path);
        if (System.IO.Path.GetDirectoryName(full) is not { } parent) return full;
        var here = System.IO.Path.Combine(Of(parent), System.IO.Path.GetFileName(full));
        try
        {
            FileSystemInfo info = Directory.Exists(here) ? new DirectoryInfo(here) : new FileInfo(here);
            return info.ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? here;
        }
        catch (IOException)
        {
            return here;
        }
    }
}
