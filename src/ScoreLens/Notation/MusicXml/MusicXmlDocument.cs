using System.Text;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// A MusicXML file as it stands on disk: the XML of the score, whitespace, comments and DOCTYPE kept, and for a compressed
/// file the package around it. Readers take a <see cref="Score"/> from it; the writer changes a copy of it.
/// </summary>
public sealed class MusicXmlDocument
{
    private XDocument? _xml;
    private MusicXmlLayout? _layout;

    private MusicXmlDocument(byte[] source, byte[]? package, string scorePath, ScoreLimits limits, CancellationToken cancellationToken)
    {
        (_xml, SourceEncoding, var warning) = XmlText.Parse(source, limits, cancellationToken);
        Warnings = warning is null ? [] : [warning];
        Limits = limits;
        Source = source;
        Package = package;
        ScorePath = scorePath;
    }

    // What is written between the characters of another document is read only where somebody asks for its elements.
    private MusicXmlDocument(byte[] source, MusicXmlDocument before)
    {
        (Source, SourceEncoding, Warnings, Limits) = (source, before.SourceEncoding, before.Warnings, before.Limits);
        (Package, ScorePath) = (before.Package, before.ScorePath);
    }

    /// <summary>The score's XML; nobody changes it.</summary>
    internal XDocument Xml =>
        LazyInitializer.EnsureInitialized(ref _xml, () => XmlText.Parse(Source, Limits, CancellationToken.None).Document);

    /// <summary>The grid of its parts and measures.</summary>
    /// <exception cref="ScoreFormatException">The document is no score, or exceeds a limit.</exception>
    internal MusicXmlLayout Layout => LazyInitializer.EnsureInitialized(ref _layout, () => MusicXmlLayout.Of(Xml, Limits));

    /// <summary>What was read all the same, and should be put right in the file.</summary>
    public IReadOnlyList<ScoreWarning> Warnings { get; }

    /// <summary>The limits that it was read under.</summary>
    internal ScoreLimits Limits { get; }

    /// <summary>The score's XML as it was read, byte for byte; the writer puts labels between these bytes.</summary>
    internal byte[] Source { get; }

    /// <summary>
    /// How <see cref="Source"/> is encoded: what the declaration says unless the bytes contradict it (Latin-1 declared as
    /// UTF-8, UTF-8 declared as UTF-16).
    /// </summary>
    internal Encoding SourceEncoding { get; }

    /// <summary>The score's XML as text, as a browser reads it: without the declaration, every space as it stands in the file.</summary>
    public string ToXmlText()
    {
        var text = SourceEncoding.GetString(Source).TrimStart('\uFEFF', ' ', '\t', '\r', '\n').TrimEnd('\0');
        // Entities of the document's own are written out: not every program that reads XML knows them.
        if (text.Contains("<!ENTITY", StringComparison.Ordinal)) return Xml.ToString(SaveOptions.DisableFormatting);
        if (text.StartsWith("<?xml ", StringComparison.Ordinal)) text = text[(text.IndexOf("?>", StringComparison.Ordinal) + 2)..];
        return text.ReplaceLineEndings("\n");
    }

    /// <summary>The bytes of the file: XML, or the package of which only the score has changed.</summary>
    public byte[] ToBytes() => Package is { } package ? MusicXmlPackage.With(package, ScorePath, Source) : Source;

    /// <summary>Whether some text of letters stands in the source, in whatever place.</summary>
    internal bool Mentions(string letters) => Source.AsSpan().IndexOf(SourceEncoding.GetBytes(letters)) >= 0;

    /// <summary>Whether the file was a compressed <c>.mxl</c>.</summary>
    public bool IsCompressed => Package is not null;

    /// <summary>The whole package of a compressed file, else null.</summary>
    internal byte[]? Package { get; }

    /// <summary>Path of the score inside the package; empty for plain XML.</summary>
    internal string ScorePath { get; }

    /// <summary>Reads a file, plain or compressed, told apart by content.</summary>
    /// <param name="path">The file.</param>
    /// <param name="limits">How much is read before the file is refused; null for the defaults.</param>
    /// <exception cref="ScoreFormatException">The file is not MusicXML.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    internal static MusicXmlDocument Load(string path, ScoreLimits? limits = null) =>
        Parse((limits ?? ScoreLimits.Default).Read(path), limits);

    /// <summary>Reads the bytes of a file, plain or compressed, told apart by content.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="limits">How much is read before the file is refused; null for the defaults.</param>
    /// <param name="cancellationToken">Gives the reading up.</param>
    /// <exception cref="ScoreFormatException">The bytes are not MusicXML.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    public static MusicXmlDocument Parse(byte[] bytes, ScoreLimits? limits = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        limits ??= ScoreLimits.Default;
        if (OtherFormat(bytes) is { } other) throw new ScoreFormatException(other);
        if (!MusicXmlPackage.IsPackage(bytes)) return new(bytes, null, "", limits, cancellationToken);
        var (score, path) = MusicXmlPackage.Score(bytes, limits);
        return new(score, bytes, path, limits, cancellationToken);
    }

    /// <summary>The same file with another text of the score; what else a package holds stays.</summary>
    internal MusicXmlDocument WithSource(byte[] source) => new(source, this);

    private static string? OtherFormat(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length == 0) return "The file is empty; export it again.";
        if (bytes.StartsWith("MThd"u8)) return "This is a MIDI file, not MusicXML; give it the ending .mid.";
        if (bytes.StartsWith("%PDF"u8)) return "This is a PDF, a picture of a score; export MusicXML from the notation program instead.";
        return bytes.IndexOfAnyExcept((byte)0) < 0 ? "The file holds only zero bytes; export it again." : null;
    }
}
