using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace ScoreLens.Output.Annotation;

/// <summary>
/// Colours a note by its <c>color</c> attribute. A processing instruction inside the note remembers who did it and the colour
/// that the note had: no program shows it and every version of MusicXML allows it.
/// </summary>
internal static partial class NoteColouring
{
    /// <summary>The target of the instructions.</summary>
    public const string Target = "scorelens-colour";

    /// <summary>The instructions of the notes that a layer, or any, has coloured.</summary>
    public static IReadOnlyList<XProcessingInstruction> Coloured(XDocument xml, string? layer) =>
        [.. xml.DescendantNodes().OfType<XProcessingInstruction>().Where(i => i.Target == Target && i.Parent is not null
            && (layer is null || i.Data.Split(' ')[0] == layer))];

    /// <summary>Colours a note.</summary>
    public static void Colour(XElement note, string colour, string layer, ScoreMarkup markup, MarkupEdits edits)
    {
        var span = markup[note];
        var tag = markup.Text[span.Start..span.ContentStart];
        if (ColourPattern().Match(tag) is { Success: true } had)
        {
            var value = had.Groups["value"];
            edits.Replace(span.Start + value.Index, span.Start + value.Index + value.Length, colour);
            edits.Insert(span.ContentStart, $"<?{Target} {layer} {value.Value}?>");
            return;
        }

        var end = tag.Length - 1;
        while (char.IsWhiteSpace(tag[end - 1])) end--;
        edits.Insert(span.Start + end, $" color=\"{colour}\"");
        edits.Insert(span.ContentStart, $"<?{Target} {layer}?>");
    }

    /// <summary>Gives a note its own colour back.</summary>
    public static void Restore(XProcessingInstruction instruction, ScoreMarkup markup, MarkupEdits edits)
    {
        var span = markup[instruction.Parent!];
        var tag = markup.Text[span.Start..span.ContentStart];
        if (ColourPattern().Match(tag) is { Success: true } match)
        {
            var original = instruction.Data.Split(' ') is [_, var value] ? value : null;
            if (original is null) edits.Replace(span.Start + match.Index, span.Start + match.Index + match.Length, "");
            else edits.Replace(span.Start + match.Groups["value"].Index, span.Start + match.Groups["value"].Index + match.Groups["value"]
                .Length, original);
        }

        var start = markup.Text.IndexOf("<?" + Target, span.ContentStart, StringComparison.Ordinal);
        edits.Replace(start, markup.Text.IndexOf("?>", start, StringComparison.Ordinal) + 2, "");
    }

    [GeneratedRegex("""\scolor\s*=\s*(?:"(?<value>[^"]*)"|'(?<value>[^']*)')""", RegexOptions.CultureInvariant)]
    private static partial Regex ColourPattern();
}
