using System.Security;
using System.Text;
using System.Xml;

namespace ScoreLens.Pages;

/// <summary>
/// The score as a page carries it: cut into measures, so that a browser parses only the measures that it engraves. A full score that is
/// parsed as one document would block the page for seconds.
/// </summary>
/// <remarks>
/// Text with the separators of ASCII (1968), which XML 1.0 allows nowhere: a group separator before each part, a record separator before
/// each of its measures. First comes the document without its parts, then the parts in the order of the document, each an identifier and
/// its measures.
/// </remarks>
internal static class PageScore
{
    private const char Group = '\u001d', Record = '\u001e';

    private static readonly XmlReaderSettings Settings = new()
    {
        DtdProcessing = DtdProcessing.Ignore,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
        IgnoreWhitespace = true,
    };

    /// <summary>Cuts a score.</summary>
    /// <param name="musicXml">A well-formed document, partwise or timewise.</param>
    public static string Of(string musicXml)
    {
        var parts = new List<(string Id, StringBuilder Measures)>();
        var head = new StringBuilder();
        using (var text = new StringReader(musicXml))
        using (var reader = XmlReader.Create(text, Settings))
        {
            reader.MoveToContent();
            var isTimewise = reader.LocalName == "score-timewise";
            head.Append("<score-partwise version=\"").Append(SecurityElement.Escape(reader.GetAttribute("version") ?? "1.0")).Append("\">");
            reader.Read();
            while (!reader.EOF)
            {
                if (reader.NodeType != XmlNodeType.Element) reader.Read();
                else if (isTimewise && reader.LocalName == "measure") Timewise(reader, parts);
                else if (!isTimewise && reader.LocalName == "part") Partwise(reader, parts);
                else if (reader.LocalName == "part-list") head.Append(reader.ReadOuterXml());
                else reader.Skip();
            }
        }

        var cut = head.Append("</score-partwise>");
        foreach (var (id, measures) in parts) cut.Append(Group).Append(id).Append(measures);
        return cut.ToString();
    }

    private static void Partwise(XmlReader reader, List<(string Id, StringBuilder Measures)> parts)
    {
        var measures = MeasuresOf(parts, reader.GetAttribute("id") ?? "");
        foreach (var _ in Children(reader, "measure")) measures.Append(Record).Append(reader.ReadOuterXml());
    }

    private static void Timewise(XmlReader reader, List<(string Id, StringBuilder Measures)> parts)
    {
        // A document has a handful of attributes on a measure; the number alone is engraved.
        var number = SecurityElement.Escape(reader.GetAttribute("number") ?? "");
        var pickup = reader.GetAttribute("implicit") == "yes" ? " implicit=\"yes\"" : "";
        foreach (var _ in Children(reader, "part"))
            MeasuresOf(parts, reader.GetAttribute("id") ?? "").Append(Record)
                .Append("<measure number=\"").Append(number).Append('"').Append(pickup).Append('>')
                .Append(reader.ReadInnerXml()).Append("</measure>");
    }

    // The children of a name, each to be read by whom asks for it; afterwards the reader stands behind the element.
    private static IEnumerable<int> Children(XmlReader reader, string name)
    {
        var depth = reader.Depth;
        var isEmpty = reader.IsEmptyElement;
        reader.Read();
        if (isEmpty) yield break;
        for (var index = 0; !reader.EOF && reader.Depth > depth;)
        {
            if (reader.NodeType != XmlNodeType.Element) reader.Read();
            else if (reader.LocalName == name) yield return index++;
            else reader.Skip();
        }

        reader.Read();
    }

    private static StringBuilder MeasuresOf(List<(string Id, StringBuilder Measures)> parts, string id)
    {
        foreach (var part in parts) if (part.Id == id) return part.Measures;
        var measures = new StringBuilder();
        parts.Add((id, measures));
        return measures;
    }
}
