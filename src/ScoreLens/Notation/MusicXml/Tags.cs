namespace ScoreLens.Notation.MusicXml;

/// <summary>A start or end tag in the text of a well-formed document.</summary>
/// <param name="Start">Its <c>&lt;</c>.</param>
/// <param name="End">Behind its <c>&gt;</c>.</param>
/// <param name="IsEnd">Whether it is an end tag.</param>
/// <param name="IsEmpty">Whether it is one empty tag.</param>
internal readonly record struct Tag(int Start, int End, bool IsEnd, bool IsEmpty);

/// <summary>Finds the tags of a document that an XML parser has already accepted.</summary>
internal static class Tags
{
    /// <summary>Every start and end tag in order; what comments, CDATA, instructions and the DOCTYPE hold is passed over.</summary>
    public static IEnumerable<Tag> In(string text)
    {
        int end;
        for (var start = text.IndexOf('<', StringComparison.Ordinal); start >= 0; start = text.IndexOf('<', end))
        {
            var isTag = false;
            if (Begins(text, start, "<!--")) end = Behind(text, start, "-->");
            else if (Begins(text, start, "<![CDATA[")) end = Behind(text, start, "]]>");
            else if (Begins(text, start, "<?")) end = Behind(text, start, "?>");
            else if (Begins(text, start, "<!")) end = BehindDoctype(text, start + 2);
            else (isTag, end) = (true, BehindTag(text, start + 1));
            if (isTag) yield return new Tag(start, end, text[start + 1] == '/', text[end - 2] == '/');
        }
    }

    private static bool Begins(string text, int at, string with) => string.CompareOrdinal(text, at, with, 0, with.Length) == 0;

    private static int Behind(string text, int start, string end) =>
        text.IndexOf(end, start, StringComparison.Ordinal) is >= 0 and var found ? found + end.Length : text.Length;

    // Values in quotes may hold the sign that ends a tag.
    private static int BehindTag(string text, int at)
    {
        while (true)
        {
            at += text.AsSpan(at).IndexOfAny('>', '"', '\'');
            if (text[at] == '>') return at + 1;
            at = text.IndexOf(text[at], at + 1) + 1;
        }
    }

    // An internal subset, in brackets, may hold quoted strings, comments and instructions with brackets in them.
    private static int BehindDoctype(string text, int at)
    {
        for (var isInside = false; ;)
        {
            at += text.AsSpan(at).IndexOfAny("[]<>\"'");
            if (text[at] == '>' && !isInside) return at + 1;
            if (Begins(text, at, "<!--")) at = Behind(text, at, "-->");
            else if (Begins(text, at, "<?")) at = Behind(text, at, "?>");
            else if (text[at] is '"' or '\'') at = text.IndexOf(text[at], at + 1) + 1;
            else isInside = text[at++] switch { '[' => true, ']' => false, _ => isInside };
        }
    }
}
