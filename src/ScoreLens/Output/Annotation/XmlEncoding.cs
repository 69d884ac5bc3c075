using System.Text;
using System.Text.RegularExpressions;

namespace ScoreLens.Output.Annotation;

/// <summary>The encoding of an XML file, found as XML 1.0 (appendix F) says: byte order mark, first characters, declaration.</summary>
internal static partial class XmlEncoding
{
    private const int DeclarationLength = 200;

    /// <summary>The encoding. A byte order mark is decoded as a character of the text, and so written back.</summary>
    public static Encoding Of(ReadOnlySpan<byte> bytes) => bytes switch
    {
        [0xEF, 0xBB, 0xBF, ..] => new UTF8Encoding(false),
        [0xFF, 0xFE, 0, 0, ..] => new UTF32Encoding(false, false),
        [0, 0, 0xFE, 0xFF, ..] => new UTF32Encoding(true, false),
        [0xFF, 0xFE, ..] or [(byte)'<', 0, ..] => new UnicodeEncoding(false, false),
        [0xFE, 0xFF, ..] or [0, (byte)'<', ..] => new UnicodeEncoding(true, false),
        _ => Declared(bytes),
    };

    /// <summary>Whether the encoding can hold every character, so that none needs a character reference.</summary>
    public static bool HoldsEveryCharacter(Encoding encoding) => encoding is UTF8Encoding or UnicodeEncoding or UTF32Encoding;

    private static Encoding Declared(ReadOnlySpan<byte> bytes)
    {
        var start = Encoding.Latin1.GetString(bytes[..Math.Min(bytes.Length, DeclarationLength)]);
        var name = Pattern().Match(start) is { Success: true } match ? match.Groups["name"].Value : "utf-8";
        // A declaration of UTF-16 in a file of single bytes is wrong, and a parser that reads the file takes it for UTF-8.
        if (name.StartsWith("utf", StringComparison.OrdinalIgnoreCase)) return new UTF8Encoding(false);
        return Encoding.GetEncoding(name);
    }

    [GeneratedRegex("""^\s*<\?xml[^>]*?\sencoding\s*=\s*["'](?<name>[A-Za-z][A-Za-z0-9._-]*)["']""", RegexOptions.CultureInvariant)]
    private static partial Regex Pattern();
}
