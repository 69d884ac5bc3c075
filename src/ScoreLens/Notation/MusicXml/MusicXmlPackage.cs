using System.IO.Compression;
using System.Xml;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// A compressed MusicXML file (MusicXML 4.0, "Compressed .mxl files"): a ZIP archive whose META-INF/container.xml names
/// the score as its first rootfile; other rootfiles, as PDFs, are other renditions of it.
/// </summary>
internal static class MusicXmlPackage
{
    private const long RatioMattersFrom = 16L * 1024 * 1024;
    private const string Container = "META-INF/container.xml";

    /// <summary>Whether the bytes are a ZIP archive.</summary>
    public static bool IsPackage(ReadOnlySpan<byte> bytes) => bytes.StartsWith("PK\x03\x04"u8) || bytes.StartsWith("PK\x05\x06"u8);

    /// <summary>The bytes of the score and its path inside the package.</summary>
    /// <exception cref="ScoreFormatException">The package is damaged, too large, or holds no score.</exception>
    public static (byte[] Score, string Path) Score(byte[] package, ScoreLimits limits)
    {
        try
        {
            using var zip = new ZipArchive(new MemoryStream(package, writable: false), ZipArchiveMode.Read);
            if (zip.Entries.Count > limits.MaxPackageFiles)
                throw new ScoreFormatException($"The compressed file holds {zip.Entries.Count} files; a score has a few.");
            if (zip.Entries.FirstOrDefault(e => Climbs(e.FullName)) is { } climbing)
                throw new ScoreFormatException($"The compressed file holds '{climbing.FullName}', a path that leads out of it; it is not "
                    + $"read.");
            var entry = RootFile(zip, limits);
            return (ReadEntry(entry, limits), entry.FullName);
        }
        catch (Exception e) when (e is InvalidDataException or NotSupportedException or IOException or ArgumentException)
        {
            throw new ScoreFormatException("The compressed file is damaged or protected; export it again.", inner: e);
        }
    }

    /// <summary>The bytes of a package with another score in the place of its own; the same score gives the same bytes.</summary>
    public static byte[] With(byte[] package, string path, byte[] score)
    {
        var memory = new MemoryStream();
        memory.Write(package);
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
        {
            var entry = zip.GetEntry(path)!;
            var written = entry.LastWriteTime;
            using (var stream = entry.Open())
            {
                stream.SetLength(0);
                stream.Write(score);
            }

            // Whenever it is written.
            entry.LastWriteTime = written;
        }

        return memory.ToArray();
    }

    private static ZipArchiveEntry RootFile(ZipArchive zip, ScoreLimits limits)
    {
        if (Find(zip, Container) is not { } container) return FirstScore(zip);
        XElement[] files;
        try
        {
            files = [.. XmlText.Parse(ReadEntry(container, limits), limits, CancellationToken.None).Document.Descendants()
                .Where(e => e.Name.LocalName == "rootfile")];
        }
        catch (ScoreFormatException e) when (e.InnerException is XmlException)
        {
            // Exporters put a title with an apostrophe between apostrophes: the container is broken, the score is not.
            return FirstScore(zip);
        }

        var path = Array.Find(files, IsMusicXml)?.Attribute("full-path")?.Value;
        return (path is null ? null : Find(zip, path)) ?? FirstScore(zip);
    }

    // Without a media type a rootfile is MusicXML (MusicXML 4.0, container.xsd).
    private static bool IsMusicXml(XElement rootfile)
    {
        var type = rootfile.Attribute("media-type")?.Value.Trim() ?? "";
        var path = rootfile.Attribute("full-path")?.Value ?? "";
        return path.Length > 0 && (type.Length == 0 ? !path.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase)
            : type.Contains("xml", StringComparison.OrdinalIgnoreCase));
    }

    private static ZipArchiveEntry FirstScore(ZipArchive zip)
    {
        var entry = zip.Entries.FirstOrDefault(e => !e.FullName.StartsWith("__MACOSX", StringComparison.Ordinal)
            && Normal(e.FullName) != Container
            && (e.FullName.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase)
                || e.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)));
        if (entry is not null) return entry;
        throw new ScoreFormatException(zip.Entries.Any(e => e.FullName.EndsWith(".mscx", StringComparison.OrdinalIgnoreCase))
            ? "This is a notation program's own file, not MusicXML; export MusicXML from it."
            : "The compressed file holds no MusicXML score; export it again.");
    }

    private static ZipArchiveEntry? Find(ZipArchive zip, string path)
    {
        var wanted = Normal(path);
        return zip.GetEntry(path)
            ?? zip.Entries.FirstOrDefault(e => Normal(e.FullName) == wanted)
            ?? zip.Entries.FirstOrDefault(e => Normal(e.FullName)
                .Equals(Normal(Uri.UnescapeDataString(path)), StringComparison.OrdinalIgnoreCase));
    }

    // The archive is never unfolded onto a disk, but our output keeps its names, and others might.
    private static bool Climbs(string name) => name.Replace('\\', '/').Split('/').Contains("..");

    private static string Normal(string name)
    {
        var slashes = name.Replace('\\', '/').TrimStart('/');
        return slashes.StartsWith("./", StringComparison.Ordinal) ? slashes[2..] : slashes;
    }

    private static byte[] ReadEntry(ZipArchiveEntry entry, ScoreLimits limits)
    {
        // The size that the archive states may be a lie: what comes out is counted.
        using var stream = entry.Open();
        using var memory = new MemoryStream();
        var buffer = new byte[81920];
        for (int read; (read = stream.Read(buffer)) > 0;)
        {
            memory.Write(buffer, 0, read);
            var isBomb = memory.Length > RatioMattersFrom && memory.Length / Math.Max(1, entry.CompressedLength) > limits.MaxUnfolding;
            if (memory.Length > limits.MaxUnfoldedBytes || isBomb)
                throw new ScoreFormatException($"'{entry.FullName}' is larger uncompressed than a score can be; it is not read.");
        }

        return memory.ToArray();
    }
}
