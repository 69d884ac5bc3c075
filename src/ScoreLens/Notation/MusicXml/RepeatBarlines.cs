using System.Globalization;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Repeat signs and endings at bar lines, of whatever part writes them.</summary>
internal sealed class RepeatBarlines
{
    private readonly bool[] _starts;
    private readonly int[] _times;
    private readonly string[] _endings;

    private RepeatBarlines(int measures)
    {
        _starts = new bool[measures];
        _times = Enumerable.Repeat(1, measures).ToArray();
        _endings = Enumerable.Repeat("", measures).ToArray();
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
            if (!_starts[i] && _times[i] == 1 && _endings[i].Length == 0) continue;
            measures[i] = measures[i] with
            {
                StartsRepeat = _starts[i],
                PlayedTimes = _times[i],
                Ending = _endings[i],
                PickupOffset = measures[i].PickupOffset,
            };
        }

        return measures;
    }

    private void Repeat(int measure, System.Xml.Linq.XElement repeat)
    {
        if (repeat.Attribute("direction")?.Value == "forward") _starts[measure] = true;
        else if (repeat.Attribute("direction")?.Value == "backward")
            _times[measure] = int.TryParse(repeat.Attribute("times")?.Value, NumberStyles.None, CultureInfo.InvariantCulture, out var times)
                && times >= 1 ? times : 2;
    }
}
