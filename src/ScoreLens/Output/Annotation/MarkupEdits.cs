using System.Text;
using System.Xml.Linq;

namespace ScoreLens.Output.Annotation;

/// <summary>Insertions into, and removals from, the text of a document, collected first and done in one pass.</summary>
internal sealed class MarkupEdits(ScoreMarkup markup)
{
    private readonly List<(int Position, int Removed, string Inserted)> _edits = [];
    private readonly string _prefix = Prefix(markup);

    /// <summary>Whether nothing is to be changed.</summary>
    public bool IsEmpty => _edits.Count == 0;

    /// <summary>Inserts text; several insertions at one position follow each other.</summary>
    public void Insert(int position, string text) => _edits.Add((position, 0, text));

    /// <summary>Puts other text in the place of some.</summary>
    public void Replace(int start, int end, string text) => _edits.Add((start, end - start, text));

    /// <summary>Inserts elements behind another child of their parent, or before all children where there is none.</summary>
    /// <param name="parent">The parent.</param>
    /// <param name="after">The child that they come after, or null.</param>
    /// <param name="elements">What is inserted, in order.</param>
    public void InsertElements(XElement parent, XElement? after, IEnumerable<XElement> elements)
    {
        var indent = parent.Elements().FirstOrDefault() is { } first ? LineBefore(markup[first].Start) : "";
        var text = new StringBuilder();
        foreach (var element in elements) Write(text, element, indent, Unit(parent, indent));
        var span = markup[parent];
        if (!span.IsEmptyTag)
        {
            Insert(after is null ? span.ContentStart : markup[after].End, text.ToString());
            return;
        }

        // An empty tag becomes a start tag and an end tag; a second insertion into it finds the first.
        var open = span.End - 2;
        while (char.IsWhiteSpace(markup.Text[open - 1])) open--;
        var closing = $"</{markup.Text[(span.Start + 1)..(span.Start + 1 + _prefix.Length + parent.Name.LocalName.Length)]}>";
        var existing = _edits.FindIndex(e => e.Position == open && e.Removed > 0);
        if (existing < 0) Replace(open, span.End, ">" + text + closing);
        else _edits[existing] = _edits[existing] with { Inserted = _edits[existing].Inserted[..^closing.Length] + text + closing };
    }

    /// <summary>Removes an element with the space before it, which <see cref="InsertElements"/> put there.</summary>
    public void Remove(XElement element)
    {
        var span = markup[element];
        var start = span.Start;
        while (start > 0 && char.IsWhiteSpace(markup.Text[start - 1])) start--;
        Replace(start, span.End, "");
    }

    /// <summary>The text with all edits done.</summary>
    public string Apply()
    {
        var text = new StringBuilder(markup.Text.Length + (_edits.Count * 100));
        var done = 0;
        foreach (var (position, removed, inserted) in _edits.OrderBy(e => e.Position))
        {
            text.Append(markup.Text, done, position - done).Append(inserted);
            done = position + removed;
        }

        return text.Append(markup.Text, done, markup.Text.Length - done).ToString();
    }

    private void Write(StringBuilder text, XElement element, string indent, string unit)
    {
        text.Append(indent).Append('<').Append(_prefix).Append(element.Name.LocalName);
        foreach (var attribute in element.Attributes())
            text.Append(' ').Append(attribute.Name.LocalName).Append("=\"").Append(markup.Escape(attribute.Value)).Append('"');
        if (element.IsEmpty)
        {
            text.Append("/>");
            return;
        }

        text.Append('>');
        if (!element.HasElements)
        {
            text.Append(markup.Escape(element.Value));
        }
        else
        {
            foreach (var child in element.Elements()) Write(text, child, indent.Length == 0 ? "" : indent + unit, unit);
            text.Append(indent);
        }

        text.Append("</").Append(_prefix).Append(element.Name.LocalName).Append('>');
    }

    // One step further in, as the document does it from the parent to its children.
    private string Unit(XElement parent, string indent)
    {
        var outer = LineBefore(markup[parent].Start);
        return indent.Length > outer.Length && indent.StartsWith(outer, StringComparison.Ordinal) ? indent[outer.Length..] : "  ";
    }

    // The line break and the indentation before a tag; empty where the tag does not begin its line.
    private string LineBefore(int position)
    {
        var start = position;
        while (start > 0 && markup.Text[start - 1] is ' ' or '\t') start--;
        if (start == 0 || markup.Text[start - 1] != '\n') return "";
        start--;
        if (start > 0 && markup.Text[start - 1] == '\r') start--;
        return markup.Text[start..position];
    }

    // The namespace prefix of the document's elements with its colon; empty as good as always.
    private static string Prefix(ScoreMarkup markup)
    {
        var root = markup.Xml.Root!;
        var start = markup[root].Start + 1;
        var at = markup.Text.IndexOf(root.Name.LocalName, start, StringComparison.Ordinal);
        return markup.Text[start..at];
    }
}
