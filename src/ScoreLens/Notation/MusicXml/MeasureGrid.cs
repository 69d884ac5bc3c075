using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>The measures that all parts share.</summary>
internal static class MeasureGrid
{
    public static Measure[] Of(MusicXmlLayout layout, (int Fifths, Mode? Mode)[] signatures)
    {
        var barlines = Barlines(layout);
        var measures = new Measure[layout.MeasureCount];
        var start = Fraction.Zero;
        // How far into the metre's measure the written one before has come.
        var reached = Fraction.Zero;
        for (var index = 0; index < measures.Length; index++)
        {
            var element = layout.MeasureElements[index];
            var time = layout.Times[index];
            var length = layout.MeasureLengths[index];
            if (length.Sign == 0) length = time.Length;
            var isImplicit = MusicXmlLayout.IsImplicit(element);
            var number = Number(element, index);
            var offset = Fraction.Zero;
            if (!time.IsFree && length < time.Length)
            {
                var continues = index > 0 && reached.Sign > 0 && reached + length <= time.Length && measures[index - 1].Time == time;
                var completes = continues && reached + length == time.Length;
                if (continues && (isImplicit || completes || number == measures[index - 1].Number)) offset = reached;
                else if (index == 0 && (isImplicit || measures.Length > 1)) offset = time.Length - length;
                else if (isImplicit && index + 1 < measures.Length) offset = time.Length - length;
            }

            measures[index] = new Measure(
                index, number, start, length, time, signatures[index].Fifths, signatures[index].Mode, isImplicit, barlines[index])
            {
                PickupOffset = offset,
            };
            start += length;
            reached = offset + length < time.Length ? offset + length : Fraction.Zero;
        }

        return InMovements(RepeatBarlines.Of(layout).Into(measures));
    }

    // Measure numbers begin again with a movement: 0 or 1 after a higher number, and counted on from there. A pickup before a repeat
    // that is numbered 0, and a measure that a bar line splits in two of one number, begin none.
    private static Measure[] InMovements(Measure[] measures)
    {
        var movement = 1;
        int? before = null;
        for (var i = 0; i < measures.Length; i++)
        {
            if (Plain(measures[i]) is { } number)
            {
                if (number is 0 or 1 && before > number
                    && measures.Skip(i + 1).Select(Plain).FirstOrDefault(n => n is not null) == number + 1)
                    movement++;
                before = number;
            }

            measures[i] = measures[i] with { Movement = movement, PickupOffset = measures[i].PickupOffset };
        }

        return measures;
    }

    private static int? Plain(Measure measure) =>
        int.TryParse(measure.Number, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    private static string Number(XElement measure, int index) =>
        measure.Attribute("number")?.Value.Trim() is { Length: > 0 } number ? number : (index + 1).ToString(CultureInfo.InvariantCulture);

    // A double, final or repeat bar line stands at the right of a measure, or at the left of the next one.
    private static bool[] Barlines(MusicXmlLayout layout)
    {
        var ends = new bool[layout.MeasureCount];
        for (var part = 0; part < layout.PartIds.Count; part++)
        {
            for (var measure = 0; measure < layout.MeasuresOf(part); measure++)
            {
                foreach (var placed in layout.Contents(part, measure))
                {
                    if (placed.Element.Name.LocalName != "barline" || !IsStrong(placed.Element)) continue;
                    var location = placed.Element.Attribute("location")?.Value;
                    if (location is null or "right") ends[measure] = true;
                    else if (location == "left" && measure > 0) ends[measure - 1] = true;
                }
            }
        }

        return ends;
    }

    private static bool IsStrong(XElement barline) =>
        Child(barline, "repeat") is not null || Text(barline,
            "bar-style") is "light-light" or "light-heavy" or "heavy-heavy" or "heavy-light";
}
