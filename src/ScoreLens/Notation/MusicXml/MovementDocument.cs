using System.Text;
using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// One movement of a document as a document of its own: its measures alone, of which the first states what was in force before it.
/// </summary>
internal static class MovementDocument
{
    private static readonly string[] Order =
        ["divisions", "key", "time", "staves", "part-symbol", "instruments", "clef", "staff-details", "transpose"];

    /// <summary>The document of a movement.</summary>
    /// <param name="document">A document that holds several.</param>
    /// <param name="movement">One of them.</param>
    public static MusicXmlDocument Of(MusicXmlDocument document, Movement movement)
    {
        var xml = new XDocument(document.Xml);
        var layout = MusicXmlLayout.Of(xml, document.Limits);
        for (var part = 0; part < layout.PartIds.Count; part++) CarryOver(layout, part, movement.FirstMeasure);
        var left = layout.MeasureElements.Select((_, i) => i).Where(i => i < movement.FirstMeasure || i >= movement.FirstMeasure
            + movement.Measures);
        foreach (var measure in left.ToHashSet())
            for (var part = 0; part < layout.PartIds.Count; part++)
                if (layout.Cell(part, measure) is { } cell)
                    (xml.Root!.Name.LocalName == "score-timewise" ? cell.Parent ?? cell : cell).Remove();
        var declared = $"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{xml.ToString(SaveOptions.DisableFormatting)}";
        return document.WithSource(Encoding.UTF8.GetBytes(declared));
    }

    private static void CarryOver(MusicXmlLayout layout, int part, int to)
    {
        if (layout.Cell(part, to) is not { } first) return;
        var inForce = new Dictionary<(string Name, string Number), XElement>();
        for (var measure = 0; measure < to; measure++)
        {
            foreach (var child in (layout.Cell(part, measure)?.Elements() ?? []).Where(e => e.Name.LocalName == "attributes").Elements())
            {
                var name = child.Name.LocalName;
                if (!Order.Contains(name)) continue;
                // A key, time or clef without a number is for every staff.
                var number = child.Attribute("number")?.Value ?? "";
                if (number.Length == 0) foreach (var old in inForce.Keys.Where(k => k.Name == name).ToList()) inForce.Remove(old);
                inForce[(name, number)] = child;
            }
        }

        var begins = first.Elements().FirstOrDefault(e => e.Name.LocalName is "attributes" or "note" or "backup" or "forward");
        if (begins is not { Name.LocalName: "attributes" })
        {
            var empty = new XElement(first.Name.Namespace + "attributes");
            if (begins is null) first.Add(empty);
            else begins.AddBeforeSelf(empty);
            begins = empty;
        }

        var own = begins.Elements().Select(e => (e.Name.LocalName, Number: e.Attribute("number")?.Value ?? "")).ToHashSet();
        var missing = inForce.Where(e => !own.Contains((e.Key.Name, e.Key.Number)) && !own.Contains((e.Key.Name, "")))
            .Select(e => new XElement(e.Value));
        XElement[] all = [.. begins.Elements().Concat(missing).OrderBy(Rank)];
        begins.ReplaceNodes(all);
    }

    // Editorial information comes first, measure styles last.
    private static int Rank(XElement element) => element.Name.LocalName is "footnote" or "level" ? -1
        : Array.IndexOf(Order, element.Name.LocalName) is >= 0 and var at ? at : Order.Length;
}
