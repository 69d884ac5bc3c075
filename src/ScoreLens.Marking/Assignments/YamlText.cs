using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using YamlDotNet.RepresentationModel;

namespace ScoreLens.Marking.Assignments;

/// <summary>
/// Text to a table of YAML. What is no YAML, or more than an assignment holds, is refused with its line before it is built.
/// </summary>
internal static class YamlText
{
    private const int MaxCharacters = 1_000_000;

    // An assignment's own tables and lists stand four deep.
    private const int MaxDepth = 20;

    /// <summary>The table that a text holds.</summary>
    /// <exception cref="AssignmentFormatException">The text is not YAML, is too large, or holds no table.</exception>
    public static YamlMappingNode Root(string text)
    {
        if (text.Length > MaxCharacters) throw Wrong(1, "the file is larger than an assignment can be.");
        Check(text);
        var stream = new YamlStream();
        try
        {
            stream.Load(new StringReader(text));
        }
        catch (YamlException e)
        {
            throw NotYaml(e.Start.Line, (e.InnerException ?? e).Message);
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException)
        {
            throw NotYaml(1, e.Message);
        }

        return stream.Documents is [{ RootNode: YamlMappingNode root }, ..]
            ? root
            : throw Wrong(1, "an assignment is a table of keys such as 'title: …'; this file holds none.");
    }

    // The tree is built by recursion, which a deep nest would break: depth is counted on the way through the text.
    private static void Check(string text)
    {
        var depth = 0;
        var parser = new Parser(new StringReader(text));
        try
        {
            while (parser.MoveNext())
            {
                depth += parser.Current switch { MappingStart or SequenceStart => 1, MappingEnd or SequenceEnd => -1, _ => 0 };
                if (depth > MaxDepth)
                    throw Wrong(parser.Current!.Start.Line, $"tables and lists stand more than {MaxDepth} deep inside each other.");
            }
        }
        catch (YamlException e)
        {
            throw NotYaml(e.Start.Line, (e.InnerException ?? e).Message);
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException)
        {
            // The parser's own slips over malformed text: what it read last is the nearest place that is known.
            throw NotYaml(parser.Current?.End.Line ?? 1, e.Message);
        }
    }

    private static AssignmentFormatException NotYaml(long line, string reason)
    {
        var sentence = reason.Trim();
        if (!sentence.EndsWith('.')) sentence += ".";
        return Wrong(line, $"this is not YAML: {sentence} Check the indentation, and put texts with a colon in quotation marks.");
    }

    private static AssignmentFormatException Wrong(long line, string message) => new([new AssignmentProblem(Math.Max(1, line), message)]);
}
