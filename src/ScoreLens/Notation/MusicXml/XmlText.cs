using System.Buffers;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Bytes to XML. DTD and schema are never fetched, entities are bounded, and an encoding that the bytes contradict is
/// corrected: exporters declare UTF-8 and write Latin-1, converters turn UTF-16 into UTF-8 and keep the declaration.
/// </summary>
internal static partial class XmlText
{
    /// <summary>The document, the encoding in which the bytes hold it, and what is wrong with that encoding, if anything is.</summary>
    /// <exception cref="ScoreFormatException">The bytes are not well-formed XML, or exceed a limit.</exception>
    public static (XDocument Document, Encoding Encoding, ScoreWarning? Warning) Parse(byte[] bytes, ScoreLimits limits,
        CancellationToken cancellationToken)
    {
        var encoding = EncodingOf(bytes, out var start);
        var text = bytes.AsMemory(start);
        // Zero bytes at the end are what a broken copy leaves; they are no part of the score.
        if (encoding.GetByteCount("<") == 1) text = text.TrimEnd((byte)0);
        try
        {
            return (Load(text, encoding, limits, cancellationToken), encoding, null);
        }
        catch (DecoderFallbackException) when (encoding is UTF8Encoding)
        {
            return (Load(text, Encoding.Latin1, limits, cancellationToken), Encoding.Latin1, new ScoreWarning(
                "The file says that it is UTF-8, but is not; its text was read as Latin-1. Save the file as UTF-8.",
                    PlaceOfInvalid(text.Span)));
        }
        catch (DecoderFallbackException e)
        {
            throw new ScoreFormatException($"The bytes are not {encoding.WebName} text; save the file as UTF-8.", inner: e);
        }
    }

    // The line of the first bytes that are no UTF-8.
    private static string PlaceOfInvalid(ReadOnlySpan<byte> text)
    {
        var line = 1;
        while (text.Length > 0 && Rune.DecodeFromUtf8(text, out _, out var length) == OperationStatus.Done)
        {
            if (text[0] == '\n') line++;
            text = text[length..];
        }

        return $"line {line}";
    }

    private static XDocument Load(ReadOnlyMemory<byte> bytes, Encoding encoding, ScoreLimits limits, CancellationToken cancellationToken)
    {
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Parse,
            XmlResolver = null,
            MaxCharactersFromEntities = limits.MaxEntityCharacters,
        };
        // Read as text, the declaration's own encoding no longer matters.
        using var text = new StringReader(encoding.GetString(bytes.Span));
        SkipBlank(text);
        try
        {
            using var reader = new BoundedXmlReader(XmlReader.Create(text, settings), limits.MaxDepth, cancellationToken);
            var document = XDocument.Load(reader, LoadOptions.PreserveWhitespace);
            document.AddAnnotation(new SourceLines(bytes, encoding));
            return document;
        }
        catch (XmlException e)
        {
            throw new ScoreFormatException(Explain(e), e.LineNumber > 0 ? $"line {e.LineNumber}" : "", e);
        }
    }

    private static void SkipBlank(StringReader text)
    {
        while (text.Peek() is ' ' or '\n' or '\r' or '\t' or '\uFEFF') text.Read();
    }

    private static string Explain(XmlException e)
    {
        if (e.Message.Contains("MaxCharactersFromEntities", StringComparison.Ordinal))
            return "The entities of its DOCTYPE expand to more text than a score can hold; it is not read.";
        var message = PositionPattern().Replace(e.Message, "");
        return $"Not well-formed XML: {message} Export the file again.";
    }

    private static Encoding EncodingOf(ReadOnlySpan<byte> bytes, out int start)
    {
        start = 0;
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF])) return With(3, Strict("utf-8"), out start);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE, 0, 0])) return With(4, Strict("utf-32"), out start);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE])) return With(2, Strict("utf-16"), out start);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF])) return With(2, Strict("utf-16BE"), out start);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[(byte)'<', 0])) return Strict("utf-16");
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0, (byte)'<'])) return Strict("utf-16BE");
        var head = Encoding.Latin1.GetString(bytes[..Math.Min(bytes.Length, 400)]);
        var declared = EncodingPattern().Match(head);
        if (!declared.Success) return Strict("utf-8");
        var name = declared.Groups["name"].Value;
        // One byte a character, whatever the declaration says of two.
        if (name.StartsWith("utf-16", StringComparison.OrdinalIgnoreCase) || name.StartsWith("ucs-", StringComparison.OrdinalIgnoreCase)
            || name.StartsWith("iso-10646", StringComparison.OrdinalIgnoreCase)) return Strict("utf-8");
        return Strict(name);
    }

    private static Encoding With(int length, Encoding encoding, out int start)
    {
        start = length;
        return encoding;
    }

    private static Encoding Strict(string name)
    {
        try
        {
            return Encoding.GetEncoding(name, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback);
        }
        catch (ArgumentException e)
        {
            // Code pages such as windows-1252 and macintosh are at hand, but not by default.
            return CodePagesEncodingProvider.Instance.GetEncoding(name, EncoderFallback.ExceptionFallback,
                DecoderFallback.ExceptionFallback)
                ?? throw new ScoreFormatException($"The encoding '{name}' is unknown; save the file as UTF-8.", "line 1", e);
        }
    }

    [GeneratedRegex(@"^\s*<\?xml[^>]*?\bencoding\s*=\s*[""'](?<name>[A-Za-z0-9._:-]+)[""']", RegexOptions.CultureInvariant)]
    private static partial Regex EncodingPattern();

    [GeneratedRegex(@"\s*Line \d+, position \d+\.$", RegexOptions.CultureInvariant)]
    private static partial Regex PositionPattern();
}
