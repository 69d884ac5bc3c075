namespace ScoreLens.Notation;

/// <summary>
/// How much of a file is read before it is refused as something that no score is. Each default lies well above the largest real scores that
/// are known to us and well below what would keep a machine busy. Immutable, and safe to share between threads.
/// </summary>
public sealed record ScoreLimits
{
    private const long Mebibyte = 1024 * 1024;

    /// <summary>The defaults.</summary>
    public static ScoreLimits Default { get; } = new();

    /// <summary>Bytes of a file as it lies on disk, compressed or not.</summary>
    public long MaxFileBytes { get; init; } = 100 * Mebibyte;

    /// <summary>Bytes of the score that a compressed file unfolds to.</summary>
    public long MaxUnfoldedBytes { get; init; } = 256 * Mebibyte;

    /// <summary>How many times its size a compressed score may unfold to; counts from 16 MiB on. Real ones come to 10 to 60.</summary>
    public int MaxUnfolding { get; init; } = 400;

    /// <summary>Files in a compressed file; a score has a few.</summary>
    public int MaxPackageFiles { get; init; } = 10_000;

    /// <summary>
    /// How deep elements may stand inside each other. MusicXML 4.0's own elements nest at most a dozen deep; what others add is rarely
    /// deeper.
    /// </summary>
    public int MaxDepth { get; init; } = 100;

    /// <summary>Characters that the entities of a DOCTYPE may expand to.</summary>
    public int MaxEntityCharacters { get; init; } = 1_000_000;

    /// <summary>Parts of a score.</summary>
    public int MaxParts { get; init; } = 1000;

    /// <summary>Measures of a score, counted in every part.</summary>
    public int MaxMeasures { get; init; } = 4_000_000;

    /// <summary>Length of a score in quarter notes; an opera of five hours has some thirty thousand.</summary>
    public int MaxQuarters { get; init; } = 100_000;

    /// <summary>Notes of a score.</summary>
    public int MaxNotes { get; init; } = 1_000_000;

    /// <summary>
    /// Notes that sound at each onset, added up over all onsets: a large orchestral movement comes to a million. Thousands of notes that
    /// are all held for thousands of onsets come to more than can be reckoned with.
    /// </summary>
    public long MaxSounding { get; init; } = 20_000_000;

    /// <summary>Reads a file, at most as much of it as is allowed.</summary>
    /// <exception cref="ScoreFormatException">The file is larger.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    internal byte[] Read(string path, CancellationToken cancellationToken = default)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        return Read(file, cancellationToken);
    }

    /// <summary>Reads a stream to its end, at most as much of it as is allowed.</summary>
    /// <exception cref="ScoreFormatException">It holds more.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    internal byte[] Read(Stream file, CancellationToken cancellationToken = default)
    {
        if (file.CanSeek && file.Length > MaxFileBytes) throw TooLarge();
        // What is no plain file states no length.
        using var bytes = new MemoryStream(file.CanSeek ? (int)Math.Min(file.Length, MaxFileBytes) : 0);
        var buffer = new byte[81920];
        for (int read; (read = file.Read(buffer)) > 0;)
        {
            cancellationToken.ThrowIfCancellationRequested();
            if (bytes.Length + read > MaxFileBytes) throw TooLarge();
            bytes.Write(buffer, 0, read);
        }

        return bytes.ToArray();
    }

    /// <summary>Refuses a score that is longer than is allowed.</summary>
    /// <exception cref="ScoreFormatException">It is longer.</exception>
    internal void Check(Theory.Fraction length, string place = "")
    {
        if (length > MaxQuarters)
            throw new ScoreFormatException(
                $"Its measures add up to {length.Floor()} quarter notes, more than a score can have: a duration is wrong.", place);
    }

    /// <summary>Refuses a score with more notes, or more of them at once, than is allowed.</summary>
    /// <exception cref="ScoreFormatException">There are more.</exception>
    internal void Check(IReadOnlyList<Note> notes)
    {
        if (notes.Count > MaxNotes) throw new ScoreFormatException($"The file has {notes.Count} notes, more than a score can have.");
        var onsets = notes.Where(n => n.IsHarmonic).Select(n => n.Onset).Distinct().Order().ToArray();
        long sounding = 0;
        foreach (var note in notes.Where(n => n.IsHarmonic))
        {
            sounding += Place(onsets, note.End) - Place(onsets, note.Onset);
            if (sounding > MaxSounding)
                throw new ScoreFormatException("The file holds more notes at once than a score can; it is not read.");
        }
    }

    private ScoreFormatException TooLarge() =>
        new($"The file is larger than {MaxFileBytes / Mebibyte} MiB, more than a score can be; it is not read.");

    private static int Place(Theory.Fraction[] onsets, Theory.Fraction time)
    {
        var place = Array.BinarySearch(onsets, time);
        return place < 0 ? ~place : place;
    }
}
