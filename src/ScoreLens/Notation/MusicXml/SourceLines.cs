using System.Text;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// In which line of its text an element stands. It is found when it is asked for, which is where something is wrong: to keep a line with
/// every node would take as much memory as the document.
/// </summary>
internal sealed class SourceLines(ReadOnlyMemory<byte> bytes, Encoding encoding)
{
    /// <summary>The line of an element of a document that keeps its lines, from 1; null where it is not known.</summary>
    public static int? Of(XElement element) => element.Document?.Annotation<SourceLines>()?.Line(element);

    // Elements come in the order of their start tags.
    private int? Line(XElement element)
    {
        var text = encoding.GetString(bytes.Span);
        using var elements = element.Document!.Descendants().GetEnumerator();
        foreach (var tag in Tags.In(text))
        {
            if (tag.IsEnd) continue;
            if (!elements.MoveNext()) return null;
            if (elements.Current == element) return Breaks(text.AsSpan(0, tag.Start)) + 1;
        }

        return null;
    }

    // A line ends with a line feed, a carriage return, or both.
    private static int Breaks(ReadOnlySpan<char> before)
    {
        var breaks = 0;
        for (var i = 0; i < before.Length; i++)
            if (before[i] == '\n' || (before[i] == '\r' && (i + 1 == before.Length || before[i + 1] != '\n'))) breaks++;
        return breaks;
    }
}
