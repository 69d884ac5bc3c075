namespace ScoreLens.Cli.Shared;

/// <summary>
/// The files that one piece of work writes into a folder, replaced only whole: all of them are written aside first and moved
/// into place by <see cref="Commit"/>. Without it nothing of the folder has changed.
/// </summary>
internal sealed class ResultFiles : IDisposable
{
    private const string Stripped = ".stripped";

    private static readonly string[] ScoreNames = [".annotated", ".leadsheet", ".marked", ".reduction", ".reharmonised"],
        TableNames = [".chords"];

    private readonly string _folder;
    private readonly IReadOnlySet<string> _inputs;
    private readonly List<(string Aside, string Place)> _files = [];
    private string? _aside;

    /// <summary>Starts a set of results.</summary>
    /// <param name="folder">Where they go; made when the first one is written.</param>
    /// <param name="inputs">Real paths of all inputs of the run, which are never written over.</param>
    public ResultFiles(string folder, IReadOnlySet<string> inputs) => (_folder, _inputs) = (folder, inputs);

    /// <summary>Whether a file is a score that the program wrote, by its name.</summary>
    public static bool IsScoreOfOurs(string path) =>
        Path.GetFileNameWithoutExtension(path) is var name && ScoreNames.Any(n => name.EndsWith(n, StringComparison.OrdinalIgnoreCase));

    /// <summary>
    /// The name of the score that a result of ours was made of, by its own name: <c>song</c> for <c>song.chords.csv</c>,
    /// <c>song.annotated.musicxml</c> and
    /// <c>song.stripped.musicxml</c>; null for what is no result of ours.
    /// </summary>
    public static string? SourceName(string path)
    {
        var name = Path.GetFileNameWithoutExtension(path);
        string? source = null;
        while ((path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) ? TableNames : [.. ScoreNames, Stripped])
            .FirstOrDefault(n => name.EndsWith(n, StringComparison.OrdinalIgnoreCase)) is { } ending)
            source = name = name[..^ending.Length];
        return source;
    }

    /// <summary>The names of the files that are written aside so far.</summary>
    public IEnumerable<string> Names => _files.Select(f => Path.GetFileName(f.Place));

    /// <summary>Writes a file aside.</summary>
    /// <exception cref="UsageException">An input of this run lies at its place.</exception>
    public void Add(string fileName, ReadOnlySpan<byte> content)
    {
        var place = Path.Combine(_folder, fileName);
        if (_inputs.Contains(RealPath.Of(place)))
            throw new UsageException($"{place} is an input of this run and would be written over; choose another folder with --out.",
                isOfRun: true);
        if (Directory.Exists(place)) throw new IOException($"{place} is a folder, so the result cannot be written there; choose another "
            + $"--out.");
        _aside ??= MakeFolder();

        var aside = Path.Combine(_aside, $"{_files.Count}");
        using (var stream = File.Create(aside)) stream.Write(content);
        _files.Add((aside, place));
    }

    /// <summary>Writes a text file aside, as UTF-8 without a byte order mark.</summary>
    public void Add(string fileName, string content) => Add(fileName, System.Text.Encoding.UTF8.GetBytes(content));

    /// <summary>Writes a text file aside by what <paramref name="write"/> writes.</summary>
    public void Add(string fileName, Action<TextWriter> write)
    {
        using var text = new StringWriter(System.Globalization.CultureInfo.InvariantCulture);
        write(text);
        Add(fileName, text.ToString());
    }

    /// <summary>Moves every file into place.</summary>
    public void Commit()
    {
        foreach (var (aside, place) in _files) File.Move(aside, place, overwrite: true);
        _files.Clear();
    }

    /// <summary>Removes what was not moved into place.</summary>
    public void Dispose()
    {
        if (_aside is not null && Directory.Exists(_aside)) Directory.Delete(_aside, recursive: true);
    }

    // Makes the folder and in it the one to write aside in. What is wrong is the folder then, not the input.
    private string MakeFolder()
    {
        try
        {
            return Directory.CreateDirectory(Path.Combine(_folder, $".{Path.GetRandomFileName()}")).FullName;
        }
        catch (IOException) when (File.Exists(_folder))
        {
            throw new UsageException($"{_folder} is a file, so no results can be written into it; choose another folder with --out.",
                isOfRun: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new IOException($"the results cannot be written into {_folder}; choose another folder with --out.", e);
        }
    }
}
