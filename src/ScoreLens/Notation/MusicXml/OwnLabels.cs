using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Tells the elements that ScoreLens wrote into a document. Each carries the editorial element <c>level</c> with our name and the
/// layer that it belongs to, which every version of MusicXML allows and no program prints. A part of ours, the harmonic reduction under
/// a full score, is told by its identifier or, where another program has written the file anew, by its name.
/// </summary>
internal static class OwnLabels
{
    /// <summary>The name in the <c>level</c> of our elements.</summary>
    public const string Owner = "ScoreLens";

    /// <summary>The identifier of a part of ours.</summary>
    public const string PartId = "ScoreLens-reduction";

    /// <summary>The name of a part of ours.</summary>
    public const string PartName = "ScoreLens reduction";

    /// <summary>Identifiers of the parts of a document that ScoreLens wrote; none as good as always.</summary>
    public static IReadOnlySet<string> PartIds(XElement root) =>
        root.Elements().Where(e => e.Name.LocalName == "part-list").Elements()
            .Where(e => e.Name.LocalName == "score-part" && (Id(e) == PartId || MusicXmlNumbers.Text(e, "part-name")?.Trim() == PartName))
            .Select(Id).ToHashSet(StringComparer.Ordinal);

    /// <summary>The elements of those parts: their entries in the list of parts and their music.</summary>
    public static IEnumerable<XElement> PartElements(XElement root)
    {
        var ids = PartIds(root);
        return ids.Count == 0 ? [] : root.Elements().SelectMany(e => e.Name.LocalName is "part-list" or "measure" ? e.Elements() : [e])
            .Where(e => e.Name.LocalName is "score-part" or "part" && ids.Contains(Id(e)));
    }

    /// <summary>The layer that an element was written by; null for elements that are not ours.</summary>
    public static string? LayerOf(XElement element)
    {
        if (element.Name.LocalName is not ("lyric" or "direction" or "harmony" or "backup" or "forward")) return null;
        var level = element.Element(element.Name.Namespace + "level")?.Value;
        return level is not null && level.StartsWith(Owner + " ", StringComparison.Ordinal) ? level[(Owner.Length + 1)..] : null;
    }

    /// <summary>Whether ScoreLens wrote an element.</summary>
    public static bool Has(XElement element) => LayerOf(element) is not null;

    private static string Id(XElement part) => part.Attribute("id")?.Value ?? "";
}
