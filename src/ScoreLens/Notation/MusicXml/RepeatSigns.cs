using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Signs that repeat a measure, several measures or a beat. The format asks exporters to write the repeated music under the
/// sign as well (MusicXML 4.0, measure-repeat); many leave it out, and there the music before the sign is repeated.
/// </summary>
internal sealed class RepeatSigns(IReadOnlyList<Measure> measures, List<Note> notes, List<Rest> rests)
{
    private const int MaxCopies = 200_000;

    private readonly List<Sign> _measureSigns = [];
    private readonly List<Sign> _beatSigns = [];
    private int _copies;

    /// <summary>Takes the signs of an <c>attributes</c> element into account.</summary>
    public void Read(XElement attributes, int measure, Fraction onset)
    {
        foreach (var style in attributes.Elements().Where(e => e.Name.LocalName == "measure-style"))
        {
            var staff = int.TryParse(style.Attribute("number")?.Value, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0;
            foreach (var element in style.Elements())
            {
                var isStart = element.Attribute("type")?.Value != "stop";
                var isLate = onset > measures[measure].Start;
                if (element.Name.LocalName == "measure-repeat")
                {
                    var place = isLate ? measure + 1 : measure;
                    Add(_measureSigns, isStart, new Sign(staff, place, measures.Count, default, default, isStart
                        ? Integer(element, 1, 1000) : 0, default));
                }
                else if (element.Name.LocalName == "beat-repeat")
                {
                    Add(_beatSigns, isStart, new Sign(staff, 0, 0, onset, measures[^1].End, 0, Beat(element, measures[measure].Time)));
                }
            }
        }
    }

    /// <summary>Adds to the notes what the signs stand for where nothing is written under them, and takes away the rests there.</summary>
    public void Fill()
    {
        foreach (var sign in _measureSigns) FillMeasures(sign);
        foreach (var sign in _beatSigns) FillBeats(sign);
    }

    private static void Add(List<Sign> signs, bool isStart, Sign sign)
    {
        if (isStart)
        {
            signs.Add(sign);
            return;
        }

        var open = signs.FindLastIndex(s => s.Staff == sign.Staff);
        if (open < 0) open = signs.Count - 1;
        if (open >= 0) signs[open] = signs[open] with { StopMeasure = sign.Measure, Stop = sign.Start };
    }

    private static Fraction Beat(XElement sign, TimeSignature time) =>
        NoteLengths.OfType(Text(sign, "slash-type")) is { } length
            ? NoteLengths.Dotted(length, sign.Elements().Count(e => e.Name.LocalName == "slash-dot"))
            : time.PulseLength;

    private void FillMeasures(Sign sign)
    {
        var byMeasure = notes.Where(n => IsOn(sign, n.Staff)).ToLookup(n => MeasureOf(n.Onset));
        var filled = new Dictionary<int, List<Note>>();
        for (var measure = sign.Measure; measure < Math.Min(sign.StopMeasure, measures.Count); measure++)
        {
            var source = measure - sign.Length;
            if (source < 0 || byMeasure[measure].Any()) continue;
            var origin = filled.TryGetValue(source, out var copy) ? copy : [.. byMeasure[source]];
            filled[measure] = Copy(sign, origin, measures[source].Start, measures[measure].Start, measures[measure].End);
        }
    }

    private void FillBeats(Sign sign)
    {
        if (sign.Beat.Sign <= 0) return;
        if (notes.Exists(n => IsOn(sign, n.Staff) && n.Onset >= sign.Start && n.Onset < sign.Stop)) return;
        var origin = notes.FindAll(n => IsOn(sign, n.Staff) && n.Onset >= sign.Start - sign.Beat && n.Onset < sign.Start);
        if (origin.Count == 0) return;
        for (var onset = sign.Start; onset < sign.Stop; onset += sign.Beat)
            Copy(sign, origin, sign.Start - sign.Beat, onset, Fraction.Min(sign.Stop, onset + sign.Beat));
    }

    private List<Note> Copy(Sign sign, List<Note> origin, Fraction from, Fraction start, Fraction end)
    {
        var copies = new List<Note>();
        foreach (var note in origin)
        {
            var onset = note.Onset - from + start;
            if (onset >= end) continue;
            var duration = Fraction.Min(note.Duration, end - onset);
            // Ties that cross the edge of what is repeated belong to the original alone.
            var marks = note.Marks;
            if (onset == start) marks &= ~NoteMarks.TieStop;
            if (onset + duration == end) marks &= ~NoteMarks.TieStart;
            copies.Add(note with { Onset = onset, Duration = duration, Marks = marks });
        }

        _copies += copies.Count;
        if (_copies > MaxCopies) throw new ScoreFormatException("Its repeat signs stand for more notes than a score can have.");
        if (copies.Count > 0) rests.RemoveAll(r => IsOn(sign, r.Staff) && r.Onset >= start && r.Onset < end);
        notes.AddRange(copies);
        return copies;
    }

    private int MeasureOf(Fraction onset)
    {
        int low = 0, high = measures.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (measures[middle].Start <= onset) low = middle;
            else high = middle - 1;
        }

        return low;
    }

    private static bool IsOn(Sign sign, int staff) => sign.Staff == 0 || sign.Staff == staff;

    /// <summary>A sign on a staff (0 for all): of measures from one to before another, or of a beat from one time to another.</summary>
    private readonly record struct Sign(int Staff, int Measure, int StopMeasure, Fraction Start, Fraction Stop, int Length, Fraction Beat);
}
