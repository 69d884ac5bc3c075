using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>An element of a measure and when it stands: quarter notes from the start of its measure.</summary>
/// <param name="Element">A child of the cell.</param>
/// <param name="Offset">Quarter notes from the start of the measure; never negative.</param>
/// <param name="Divisions">Divisions of a quarter note in force at the element.</param>
internal readonly record struct PlacedElement(XElement Element, Fraction Offset, Fraction Divisions)
{
    /// <summary>How long it lasts in quarter notes: a note or rest that is no grace note; else zero.</summary>
    public Fraction Length { get; init; }
}

/// <summary>
/// The grid of a MusicXML document: for every part and measure the element that holds its contents, whether the document is
/// partwise or timewise, and when each child of it stands. The reader and the writer walk the same grid;
/// a part that ScoreLens wrote is no part of it.
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
        Times = new TimeSignature[measureElements.Length];
        Place();
    }

    public XElement Root { get; }

    /// <summary>Identifiers of the parts, from the top of the score down.</summary>
    public IReadOnlyList<string> PartIds { get; }

    /// <summary>For every measure an element that carries its attributes (number, implicit).</summary>
    public IReadOnlyList<XElement> MeasureElements { get; }

    /// <summary>Length of every measure: what the longest part holds; zero where none holds anything.</summary>
    public Fraction[] MeasureLengths { get; }

    /// <summary>The time signature in force at the start of every measure; the top part's where parts differ.</summary>
    public TimeSignature[] Times { get; }

    public int MeasureCount => MeasureElements.Count;

    /// <summary>How many measures a part has.</summary>
    public int MeasuresOf(int part) => _cells[part].Length;

    /// <summary>The element that holds the contents of a part's measure, or null where the part is shorter.</summary>
    public XElement? Cell(int part, int measure) => measure < _cells[part].Length ? _cells[part][measure] : null;

    /// <summary>The children of a cell in document order with their offsets.</summary>
    public IReadOnlyList<PlacedElement> Contents(int part, int measure) =>
        Cell(part, measure) is { } cell ? _placed[cell] : [];

    /// <summary>The grid of a document.</summary>
    /// <exception cref="ScoreFormatException">The document is no score, or exceeds a limit.</exception>
    public static MusicXmlLayout Of(XDocument document, ScoreLimits limits)
    {
        var root = document.Root ?? throw new ScoreFormatException("The document is empty.");
        return root.Name.LocalName switch
        {
            "score-partwise" => Partwise(root, limits),
            "score-timewise" => Timewise(root, limits),
            "opus" => throw new ScoreFormatException("This is an opus, a list of scores; give the scores themselves."),
            "museScore" => throw new ScoreFormatException("This is a notation program's own file, not MusicXML; export MusicXML from it."),
            var other => throw new ScoreFormatException($"The root element is '{other}', not score-partwise or score-timewise: this is "
                + $"not a MusicXML score."),
        };
    }

    public static string Where(XElement element)
    {
        var line = SourceLines.Of(element) is { } number ? $"line {number}" : "";
        var measure = element.AncestorsAndSelf().FirstOrDefault(e => e.Name.LocalName == "measure")?.Attribute("number")?.Value;
        var part = element.AncestorsAndSelf().FirstOrDefault(e => e.Name.LocalName == "part")?.Attribute("id")?.Value;
        var place = part is null ? "" : $"part {part}" + (measure is null ? "" : $", measure {measure}");
        return place.Length == 0 ? line : line.Length == 0 ? place : $"{place} ({line})";
    }

    public static XElement? Child(XElement element, string name) => MusicXmlNumbers.Child(element, name);

    public static Fraction Number(XElement element) => MusicXmlNumbers.Number(element);

    private static MusicXmlLayout Partwise(XElement root, ScoreLimits limits)
    {
        var own = OwnLabels.PartIds(root);
        var parts = InListOrder(root, [.. Named(root, "part").Where(p => !own.Contains(Id(p)))], Id);
        var cells = parts.Select(p => (XElement?[])[.. Named(p, "measure")]).ToArray();
        var longest = cells.MaxBy(c => c.Length) ?? [];
        Bound(parts.Length, longest.Length, limits);
        return new(root, [.. parts.Select(Id)], cells, [.. longest.OfType<XElement>()]);
    }

    private static MusicXmlLayout Timewise(XElement root, ScoreLimits limits)
    {
        XElement[] measures = [.. Named(root, "measure")];
        var own = OwnLabels.PartIds(root);
        var ids = InListOrder(
            root, [.. measures.SelectMany(m => Named(m, "part")).Select(Id).Distinct().Where(id => !own.Contains(id))], id => id);
        Bound(ids.Length, measures.Length, limits);
        var places = ids.Index().ToDictionary(p => p.Item, p => p.Index);
        var cells = ids.Select(_ => new XElement?[measures.Length]).ToArray();
        for (var measure = 0; measure < measures.Length; measure++)
            foreach (var part in Named(measures[measure], "part"))
                if (places.TryGetValue(Id(part), out var place)) cells[place][measure] ??= part;
        return new(root, ids, cells, measures);
    }

    private static IEnumerable<XElement> Named(XElement parent, string name) => parent.Elements().Where(e => e.Name.LocalName == name);

    private static string Id(XElement part) => part.Attribute("id")?.Value ?? "";

    // The part list is the order of the score from the top; parts that it does not list follow.
    private static T[] InListOrder<T>(XElement root, T[] parts, Func<T, string> id)
    {
        if (MusicXmlNumbers.Child(root, "part-list") is not { } list) return parts;
        var places = new Dictionary<string, int>();
        foreach (var part in Named(list, "score-part")) places.TryAdd(Id(part), places.Count);
        return [.. parts.OrderBy(p => places.GetValueOrDefault(id(p), int.MaxValue))];
    }

    private static void Bound(int parts, int measures, ScoreLimits limits)
    {
        if (parts > limits.MaxParts || (long)parts * measures > limits.MaxMeasures)
            throw new ScoreFormatException($"The file has {parts} parts and {measures} measures, more than a score can have.");
    }

    private void Place()
    {
        // For every measure the longest content, and the longest sign for a rest through the whole measure.
        var content = new Fraction[MeasureCount];
        var fullRests = new Fraction[MeasureCount];
        var times = new TimeSignature?[MeasureCount];
        for (var part = 0; part < PartIds.Count; part++)
        {
            var placer = new CellPlacer(InferDivisions(part));
            for (var measure = 0; measure < _cells[part].Length; measure++)
            {
                if (_cells[part][measure] is not { } cell) continue;
                try
                {
                    _placed[cell] = placer.Place(cell);
                }
                catch (OverflowException e)
                {
                    throw new ScoreFormatException("Its durations and divisions do not add up to times that can be reckoned exactly.",
                        Where(cell), e);
                }

                content[measure] = Fraction.Max(content[measure], placer.Content);
                fullRests[measure] = Fraction.Max(fullRests[measure], placer.FullRest);
                times[measure] ??= placer.TimeAtStart;
                if (placer.TimeLater is { } later && measure + 1 < MeasureCount) times[measure + 1] ??= later;
            }
        }

        var time = TimeSignature.Common;
        for (var measure = 0; measure < MeasureCount; measure++)
        {
            time = times[measure] ?? time;
            Times[measure] = time;
            MeasureLengths[measure] = MeasureLength(content[measure], fullRests[measure], time, MeasureElements[measure]);
        }
    }

    // A rest through the whole measure is often written as long as a whole note, whatever the metre: it counts as long as
    // the metre says, or as the notes beside it, and alone only where there is nothing else to go by.
    private static Fraction MeasureLength(Fraction content, Fraction fullRest, TimeSignature time, XElement measure)
    {
        if (fullRest.Sign == 0) return content;
        if (Metres.Nominal(time) is not { } nominal) return Fraction.Max(content, fullRest);
        if (content.Sign > 0 && (fullRest != nominal || IsImplicit(measure))) return content;
        return content.Sign > 0 ? Fraction.Max(content, nominal) : IsImplicit(measure) ? Fraction.Min(fullRest, nominal) : nominal;
    }

    /// <summary>Whether a measure is not counted: marked implicit, or numbered X1, X2 … as the second part of a split one.</summary>
    public static bool IsImplicit(XElement measure) =>
        measure.Attribute("implicit")?.Value.Trim() == "yes"
        || (measure.Attribute("number")?.Value.Trim() is ['X', .. { Length: > 0 } rest] && rest.All(char.IsAsciiDigit));

    // What one division is where the part never says: a note whose shape and duration are both written tells, else it is a
    // quarter note (the default that the format's authors state for files without divisions).
    private Fraction InferDivisions(int part)
    {
        foreach (var element in _cells[part].OfType<XElement>().SelectMany(c => c.Elements()))
        {
            if (element.Name.LocalName == "attributes" && MusicXmlNumbers.Child(element, "divisions") is not null) break;
            if (element.Name.LocalName != "note" || MusicXmlNumbers.Child(element, "duration") is not { } duration) continue;
            if (NoteLengths.Of(element) is not { } length) continue;
            var divisions = MusicXmlNumbers.Time(duration) / length;
            if (divisions.Sign > 0) return divisions;
        }

        return Fraction.One;
    }
}
