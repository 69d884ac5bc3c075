using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace ScoreLens.Tests.Notation.MusicXml;

public sealed partial class DocumentationTests
{
    [Fact]
    public void The_manual_says_of_every_element_of_the_schema_whether_it_is_read_once()
    {
        XNamespace xs = "http://www.w3.org/2001/XMLSchema";
        var schema = Places.External("musicxml-4.0", "musicxml.xsd");
        var elements = XDocument.Load(schema).Descendants(xs + "element").Select(e => (string?)e.Attribute("name")).OfType<string>()
            .Distinct().Order(StringComparer.Ordinal);
        var manual = File.ReadAllText(Path.Combine(Places.Root, "docs", "musicxml.md"));
        var table = string.Concat(manual.Split('\n').Where(l => l.StartsWith("| `", StringComparison.Ordinal))
            .Select(l => l.Split('|')[1]));
        var list = manual[(manual.LastIndexOf("lyric labels.", StringComparison.Ordinal) + 1)..];
        var listed = NamePattern().Matches(table + list).Select(m => m.Groups[1].Value).ToArray();
        Assert.Equal(listed.Length, listed.Distinct().Count());
        Assert.Equal(elements, listed.Order(StringComparer.Ordinal));
    }

    [GeneratedRegex("`([a-z0-9-]+)`")]
    private static partial Regex NamePattern();
}
