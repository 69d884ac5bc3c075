using System.IO.Compression;
using System.Xml;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// A MusicXML file as it stands on disk: the XML of the score, whitespace, comments and DOCTYPE kept, and for a compressed
/// file the package around it. Readers take a <see cref="Score"/> from it; the writer changes a copy of it.
/// </summary>
public sealed class MusicXmlDocument
{
    private const int MaxEntityCharacters = 1_000_000;
    private const long MaxUncompressedBytes = 512L * 1024 * 1024;

    private MusicXmlDocument(byte[] source, byte[]? package, string scorePath)
    {
        Xml = ParseXml(source);
        Source = source;
        Package = package;
        ScorePath = scorePath;
    }

    /// <summary>The score's XML.</summary>
    public XDocument Xml { get; }

    /// <summary>The score's XML as it was read, byte for byte; the writer puts labels between these bytes.</summary>
    internal byte[] Source { get; }

    /// <summary>Whether the file was a compressed <c>.mxl</c>.</summary>
    public bool IsCompressed => Package is not null;

    /// <summary>The whole package of a compressed file, else null.</summary>
    internal byte[]? Package { get; }

    /// <summary>Path of the score inside the package; empty for plain XML.</summary>
    internal string ScorePath { get; }

    /// <summary>Reads a file, plain or compressed, told apart by content.</summary>
    /// <exception cref="ScoreFormatException">The file is not MusicXML.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static MusicXmlDocument Load(string path) => Parse(File.ReadAllBytes(path));

    /// <summary>Reads the bytes of a file, plain or compressed, told apart by content.</summary>
    /// <exception cref="ScoreFormatException">The bytes are not MusicXML.</exception>
    public static MusicXmlDocument Parse(byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        if (bytes.Length == 0) throw new ScoreFormatException("The file is empty.");
        if (bytes is not [(byte)'P', (byte)'K', ..]) return new(bytes, null, "");
        try
        {
            using var zip = new ZipArchive(new MemoryStream(bytes, writable: false), ZipArchiveMode.Read);
            var path = RootFile(zip);
            var entry = zip.GetEntry(path) ?? throw new ScoreFormatException($"The package names '{path}' as its score, but does not hold it.");
            return new(ReadEntry(entry), bytes, path);
        }
        catch (InvalidDataException e)
        {
            throw new ScoreFormatException("The compressed file is damaged; export it again.", inner: e);
        }
    }

    private static string RootFile(ZipArchive zip)
    {
        if (zip.GetEntry("META-INF/container.xml") is { } container)
        {
            var root = ParseXml(ReadEntry(container)).Descendants().FirstOrDefault(e => e.Name.LocalName == "rootfile");
            if (root?.Attribute("full-path")?.Value is { Length: > 0 } path) return path;
            throw new ScoreFormatException("META-INF/container.xml names no score.");
        }

        return zip.Entries.FirstOrDefault(e => e.FullName.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase)
                || e.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase))?.FullName
            ?? throw new ScoreFormatException("The compressed file holds no META-INF/container.xml and no score.");
    }

    private static byte[] ReadEntry(ZipArchiveEntry entry)
    {
        if (entry.Length > MaxUncompressedBytes) throw new ScoreFormatException($"'{entry.FullName}' is larger than 512 MiB uncompressed.");
        using var stream = entry.Open();
        using var memory = new MemoryStream();
        stream.CopyTo(memory);
        return memory.ToArray();
    }

    private static XDocument ParseXml(byte[] bytes)
    {
        // The DTD and schema are never fetched: no resolver. Entities of an internal subset are read, up to a bound.
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Parse,
            XmlResolver = null,
            MaxCharactersFromEntities = MaxEntityCharacters,
        };
        try
        {
            using var reader = XmlReader.Create(new MemoryStream(bytes, writable: false), settings);
            return XDocument.Load(reader, LoadOptions.PreserveWhitespace | LoadOptions.SetLineInfo);
        }
        catch (XmlException e)
        {
            throw new ScoreFormatException($"Not well-formed XML: {e.Message}", $"line {e.LineNumber}", e);
        }
    }
}
