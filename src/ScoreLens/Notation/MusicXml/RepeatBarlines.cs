using System.Globalization;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Repeat signs and endings at bar lines, and signs for the way through the score (da capo and the like), of whatever part writes them.
/// </summary>
internal sealed class RepeatBarlines
{
    private readonly bool[] _starts;
    private readonly int[] _times;
    private readonly string[] _endings;
    private readonly RoadSigns[] _roads;

    private RepeatBarlines(int measures)
    {
        _starts = new bool[measures];
        _times = Enumerable.Repeat(1, measures).ToArray();
        _endings = Enumerable.Repeat("", measures).ToArray();
        _roads = Enumerable.Repeat(RoadSigns.None, measures).ToArray();
    }

    public static RepeatBarlines Of(MusicXmlLayout layout)
    {
        var signs = new RepeatBarlines(layout.MeasureCount);
        for (var part = 0; part < layout.PartIds.Count; part++)
        {
            var ending = "";
            for (var measure = 0; measure < layout.MeasuresOf(part); measure++)
            {
                var stops = false;
                foreach (var placed in layout.Contents(part, measure))
                {
                    if (placed.Element.Name.LocalName is "direction" or "sound") signs.Road(layout, measure, placed);
                    if (placed.Element.Name.LocalName != "barline") continue;
                    if (Child(placed.Element, "repeat") is { } repeat) signs.Repeat(measure, repeat);
                    if (Child(placed.Element, "ending") is not { } sign) continue;
                    if (sign.Attribute("type")?.Value == "start") ending = sign.Attribute("number")?.Value.Trim() ?? "";
                    else stops = true;
                }

                if (ending.Length > 0) signs._endings[measure] = ending;
                if (stops) ending = "";
            }
        }

        return signs;
    }

    /// <summary>The measures with their signs.</summary>
    public Measure[] Into(Measure[] measures)
    {
        for (var i = 0; i < measures.Length; i++)
        {
            if (!_starts[i] && _times[i] == 1 && _endings[i].Length == 0 && _roads[i] == RoadSigns.None) continue;
            measures[i] = measures[i] with
            {
                StartsRepeat = _starts[i],
                PlayedTimes = _times[i],
                Ending = _endings[i],
                Roads = _roads[i],
                PickupOffset = measures[i].PickupOffset,
            };
        }

        return measures;
    }

    // A segno or a coda at the very end of a measure is meant for the next.
    private void Road(MusicXmlLayout layout, int measure, PlacedElement placed)
    {
        var found = RoadSignReader.Of(placed.Element);
        if (found == RoadSigns.None) return;
        var isAtEnd = placed.Offset.Sign > 0 && placed.Offset >= layout.MeasureLengths[measure] && measure + 1 < _roads.Length;
        if (isAtEnd && (found.Segno || found.Coda)) _roads[measure + 1] = _roads[measure + 1].And(found);
        else _roads[measure] = _roads[measure].And(found);
    }

    private void Repeat(int measure, System.Xml.Linq.XElement repeat)
    {
        if (repeat.Attribute("direction")?.Value == "forward") _starts[measure] = true;
        else if (repeat.Attribute("direction")?.Value == "backward")
            _times[measure] = int.TryParse(repeat.Attribute("times")?.Value, NumberStyles.None, CultureInfo.InvariantCulture, out var times)
                && times >= 1 ? times : 2;
    }
}
