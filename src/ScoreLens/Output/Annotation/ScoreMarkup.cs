using System.Text;
using System.Xml.Linq;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Output.Annotation;

/// <summary>Where an element stands in the text of its document: from <c>&lt;</c> to behind its last <c>&gt;</c>.</summary>
/// <param name="Start">Its first character.</param>
/// <param name="ContentStart">Behind its start tag.</param>
/// <param name="ContentEnd">Before its end tag; equal to <paramref name="End"/> where it is one empty tag.</param>
/// <param name="End">Behind its last character.</param>
internal readonly record struct ElementSpan(int Start, int ContentStart, int ContentEnd, int End)
{
    /// <summary>Whether it is written as one empty tag.</summary>
    public bool IsEmptyTag => ContentStart == End;
}

/// <summary>
/// The text of a score's XML with the place of every element in it. The writer puts labels between the characters of the
/// original instead of writing the whole document anew, so that quotes, spaces inside tags, character references, comments,
/// the DOCTYPE and the encoding stay as they are, and taking the labels out again gives the original bytes.
/// </summary>
internal sealed class ScoreMarkup
{
    private readonly Dictionary<XElement, ElementSpan> _spans;
    private readonly Encoding _encoding;

    private ScoreMarkup(XDocument xml, string text, Encoding encoding, Dictionary<XElement, ElementSpan> spans)
    {
        Xml = xml;
        Text = text;
        _encoding = encoding;
        _spans = spans;
    }

    /// <summary>The document's elements.</summary>
    public XDocument Xml { get; }

    /// <summary>The document's characters.</summary>
    public string Text { get; }

    /// <summary>Where an element of <see cref="Xml"/> stands in <see cref="Text"/>.</summary>
    public ElementSpan this[XElement element] => _spans[element];

    /// <summary>The text of a document as it was read.</summary>
    public static ScoreMarkup Of(MusicXmlDocument document)
    {
        var encoding = document.SourceEncoding;
        var text = encoding.GetString(document.Source);
        if (TryPlace(document.Xml, text) is { } spans) return new(document.Xml, text, encoding, spans);
        // Entities of an internal subset that stand for elements: their elements have no place in the text. Written out in
        // full the document says the same and every element has one.
        text = document.Xml.Declaration + document.Xml.ToString(SaveOptions.DisableFormatting);
        spans = TryPlace(document.Xml, text) ?? throw new InvalidOperationException("An XML document does not match its own text.");
        return new(document.Xml, text, encoding, spans);
    }

    /// <summary>The bytes of a text that was made from this one, in the document's encoding.</summary>
    public byte[] Encode(string text) => _encoding.GetBytes(text);

    /// <summary>Text content that the document's encoding can hold: what it cannot becomes a character reference.</summary>
    public string Escape(string content)
    {
        var text = content.Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal)
            .Replace(">", "&gt;", StringComparison.Ordinal).Replace("\"", "&quot;", StringComparison.Ordinal);
        if (_encoding is UTF8Encoding or UnicodeEncoding or UTF32Encoding) return text;
        var escaped = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.IsAscii) escaped.Append(rune);
            else escaped.Append("&#x").Append(rune.Value.ToString("X", System.Globalization.CultureInfo.InvariantCulture)).Append(';');
        }

        return escaped.ToString();
    }

    // Start tags come in the order of the elements, so the two are matched one by one; null where they differ.
    private static Dictionary<XElement, ElementSpan>? TryPlace(XDocument xml, string text)
    {
        // An element has a start and an end.
        var spans = new Dictionary<XElement, ElementSpan>(text.AsSpan().Count('<') / 2, ReferenceEqualityComparer.Instance);
        var open = new Stack<(XElement Element, int Start, int ContentStart)>();
        using var elements = xml.Descendants().GetEnumerator();
        foreach (var tag in Tags.In(text))
        {
            if (tag.IsEnd)
            {
                if (open.Count == 0) return null;
                var (element, start, contentStart) = open.Pop();
                spans[element] = new ElementSpan(start, contentStart, tag.Start, tag.End);
                continue;
            }

            if (!elements.MoveNext() || !LocalName(text, tag.Start).SequenceEqual(elements.Current.Name.LocalName)) return null;
            if (tag.IsEmpty) spans[elements.Current] = new ElementSpan(tag.Start, tag.End, tag.End, tag.End);
            else open.Push((elements.Current, tag.Start, tag.End));
        }

        return open.Count == 0 && !elements.MoveNext() ? spans : null;
    }

    private static ReadOnlySpan<char> LocalName(string text, int start)
    {
        var end = start + 1;
        while (end < text.Length && !char.IsWhiteSpace(text[end]) && text[end] is not ('>' or '/')) end++;
        var name = text.AsSpan(start + 1, end - start - 1);
        return name[(name.IndexOf(':') + 1)..];
    }
}
