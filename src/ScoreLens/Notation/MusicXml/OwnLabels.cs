using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Tells the elements that ScoreLens wrote into a document. Each carries the editorial element <c>level</c> with our name and the
/// layer that it belongs to, which every version of MusicXML allows and no program prints.
/// </summary>
internal static class OwnLabels
{
    /// <summary>The name in the <c>level</c> of our elements.</summary>
    public const string Owner = "ScoreLens";

    /// <summary>The layer that an element was written by; null for elements that are not ours.</summary>
    public static string? LayerOf(XElement element)
    {
        if (element.Name.LocalName is not ("lyric" or "direction" or "harmony" or "backup" or "forward")) return null;
        var level = element.Element(element.Name.Namespace + "level")?.Value;
        return level is not null && level.StartsWith(Owner + " ", StringComparison.Ordinal) ? level[(Owner.Length + 1)..] : null;
    }

    /// <summary>Whether ScoreLens wrote an element.</summary>
    public static bool Has(XElement element) => LayerOf(element) is not null;
}
