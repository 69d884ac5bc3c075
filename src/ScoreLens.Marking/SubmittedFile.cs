namespace ScoreLens.Marking;

/// <summary>Tells files of other kinds that students hand in instead of MusicXML, and says what to do.</summary>
public static class SubmittedFile
{
    private static readonly Dictionary<string, string> Programs = new(StringComparer.OrdinalIgnoreCase)
    {
        [".mscz"] = "a file of a notation program",
        [".mscx"] = "a file of a notation program",
        [".sib"] = "a file of a notation program",
        [".musx"] = "a file of a notation program",
        [".mus"] = "a file of a notation program",
        [".dorico"] = "a file of a notation program",
        [".gp"] = "a file of a notation program",
        [".ly"] = "a LilyPond source",
        [".docx"] = "a text document",
        [".odt"] = "a text document",
        [".pages"] = "a text document",
        [".txt"] = "a text file",
        [".zip"] = "an archive",
        [".mp3"] = "a recording",
        [".wav"] = "a recording",
        [".m4a"] = "a recording",
        [".heic"] = "a picture",
    };

    /// <summary>
    /// File name endings that a folder of submissions is searched for beside those of scores, so that no student is passed over.
    /// </summary>
    public static IReadOnlyList<string> OtherEndings { get; } = [.. Programs.Keys, ".pdf", ".png", ".jpg", ".jpeg"];

    /// <summary>What to say of a file of another kind; null for one that may be a score.</summary>
    internal static string? OtherKind(ReadOnlySpan<byte> bytes, string path)
    {
        var kind = bytes.StartsWith("%PDF"u8) ? "a PDF"
            : bytes.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G'])
                || bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? "a picture"
            : Programs.GetValueOrDefault(Path.GetExtension(path));
        return kind is null ? null : $"This is {kind}; hand in the score exported as MusicXML (.musicxml or .mxl).";
    }
}
