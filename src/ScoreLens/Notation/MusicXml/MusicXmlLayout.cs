using System.Globalization;
using System.Xml;
using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>An element of a measure and when it stands: quarter notes from the start of its measure.</summary>
internal readonly record struct PlacedElement(XElement Element, Fraction Offset, Fraction Divisions);

/// <summary>
/// The grid of a MusicXML document: for every part and measure the element that holds its contents, whether the document is
/// partwise or timewise, and when each child of it stands. The reader and the writer walk the same grid.
/// </summary>
internal sealed class MusicXmlLayout
{
    private readonly XElement?[][] _cells;
    private readonly Dictionary<XElement, PlacedElement[]> _placed = [];

    private MusicXmlLayout(XElement root, string[] partIds, XElement?[][] cells, XElement[] measureElements)
    {
        Root = root;
        PartIds = partIds;
        _cells = cells;
        MeasureElements = measureElements;
        MeasureLengths = new Fraction[measureElements.Length];
        Place();
    }

    public XElement Root { get; }

    public IReadOnlyList<string> PartIds { get; }

    /// <summary>For every measure an element that carries its attributes (number, implicit).</summary>
    public IReadOnlyList<XElement> MeasureElements { get; }

    /// <summary>Length of every measure: what the longest part holds; zero where none holds anything.</summary>
    public Fraction[] MeasureLengths { get; }

    public int MeasureCount => MeasureElements.Count;

    /// <summary>The element that holds the contents of a part's measure, or null where the part is shorter.</summary>
    public XElement? Cell(int part, int measure) => measure < _cells[part].Length ? _cells[part][measure] : null;

    /// <summary>The children of a cell in document order with their offsets.</summary>
    public IReadOnlyList<PlacedElement> Contents(int part, int measure) =>
        Cell(part, measure) is { } cell ? _placed[cell] : [];

    public static MusicXmlLayout Of(XDocument document)
    {
        var root = document.Root ?? throw new ScoreFormatException("The document is empty.");
        return root.Name.LocalName switch
        {
            "score-partwise" => Partwise(root),
            "score-timewise" => Timewise(root),
            "opus" => throw new ScoreFormatException("This is an opus, a list of scores; give the scores themselves."),
            var other => throw new ScoreFormatException($"The root element is '{other}', not score-partwise or score-timewise: this is not a MusicXML score."),
        };
    }

    public static string Where(XElement element)
    {
        var line = element is IXmlLineInfo info && info.HasLineInfo() ? $"line {info.LineNumber}" : "";
        var measure = element.AncestorsAndSelf().FirstOrDefault(e => e.Name.LocalName == "measure")?.Attribute("number")?.Value;
        var part = element.AncestorsAndSelf().FirstOrDefault(e => e.Name.LocalName == "part")?.Attribute("id")?.Value;
        var place = part is null ? "" : $"part {part}" + (measure is null ? "" : $", measure {measure}");
        return place.Length == 0 ? line : line.Length == 0 ? place : $"{place} ({line})";
    }

    private static MusicXmlLayout Partwise(XElement root)
    {
        var ns = root.Name.Namespace;
        var parts = root.Elements(ns + "part").ToArray();
        var cells = parts.Select(p => (XElement?[])p.Elements(ns + "measure").ToArray()).ToArray();
        var longest = cells.MaxBy(c => c.Length) ?? [];
        return new(root, [.. parts.Select(p => p.Attribute("id")?.Value ?? "")], cells, [.. longest.OfType<XElement>()]);
    }

    private static MusicXmlLayout Timewise(XElement root)
    {
        var ns = root.Name.Namespace;
        var measures = root.Elements(ns + "measure").ToArray();
        var ids = measures.SelectMany(m => m.Elements(ns + "part")).Select(p => p.Attribute("id")?.Value ?? "").Distinct().ToArray();
        var cells = ids.Select(id => measures
            .Select(m => m.Elements(ns + "part").FirstOrDefault(p => (p.Attribute("id")?.Value ?? "") == id)).ToArray()).ToArray();
        return new(root, ids, cells, measures);
    }

    private void Place()
    {
        for (var part = 0; part < PartIds.Count; part++)
        {
            var divisions = Fraction.One;
            for (var measure = 0; measure < _cells[part].Length; measure++)
            {
                if (_cells[part][measure] is not { } cell) continue;
                var length = PlaceCell(cell, ref divisions);
                MeasureLengths[measure] = Fraction.Max(MeasureLengths[measure], length);
            }
        }
    }

    private Fraction PlaceCell(XElement cell, ref Fraction divisions)
    {
        Fraction cursor = default, previous = default, furthest = default;
        var placed = new List<PlacedElement>();
        foreach (var element in cell.Elements())
        {
            switch (element.Name.LocalName)
            {
                case "attributes":
                    if (Child(element, "divisions") is { } d)
                    {
                        divisions = Number(d);
                        if (divisions.Sign <= 0) throw new ScoreFormatException("divisions must be above zero.", Where(d));
                    }

                    placed.Add(new(element, cursor, divisions));
                    break;
                case "note":
                    var isChord = Child(element, "chord") is not null;
                    var length = Child(element, "grace") is not null ? Fraction.Zero : Length(element, divisions);
                    placed.Add(new(element, isChord ? previous : cursor, divisions));
                    if (!isChord)
                    {
                        previous = cursor;
                        cursor += length;
                    }
                    else
                    {
                        furthest = Fraction.Max(furthest, previous + length);
                    }

                    break;
                case "backup":
                    placed.Add(new(element, cursor, divisions));
                    cursor = Fraction.Max(Fraction.Zero, cursor - Length(element, divisions));
                    break;
                case "forward":
                    placed.Add(new(element, cursor, divisions));
                    cursor += Length(element, divisions);
                    break;
                default:
                    placed.Add(new(element, cursor, divisions));
                    break;
            }

            furthest = Fraction.Max(furthest, cursor);
        }

        _placed[cell] = [.. placed];
        return furthest;
    }

    private static Fraction Length(XElement element, Fraction divisions) =>
        Child(element, "duration") is { } duration ? Number(duration) / divisions : Fraction.Zero;

    public static XElement? Child(XElement element, string name) => element.Element(element.Name.Namespace + name);

    public static Fraction Number(XElement element) =>
        Fraction.TryParse(element.Value, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw new ScoreFormatException($"'{element.Value}' is not a number.", Where(element));
}
