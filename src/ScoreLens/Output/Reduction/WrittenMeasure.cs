using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>A measure of the reduction: what sounds in it, chord by chord, and with which note values.</summary>
internal sealed class WrittenMeasure
{
    private readonly string[] _staves;
    private readonly List<(IReadOnlyList<WrittenValue> Values, Note[] Notes)> _spans = [];

    /// <param name="measure">The measure.</param>
    /// <param name="notes">What sounds in it; two notes sound together or follow each other.</param>
    /// <param name="staves">One staff with a G clef, or two.</param>
    public WrittenMeasure(Measure measure, Note[] notes, int staves = 2)
    {
        Measure = measure;
        _staves = staves == 1 ? ["1"] : ["1", "2"];
        var sounding = notes.GroupBy(n => (n.Onset, n.End)).OrderBy(g => g.Key.Onset).ToArray();
        var rhythm = new WrittenRhythm(measure, sounding.SelectMany(g => (Fraction[])[g.Key.Onset, g.Key.End]));
        var at = measure.Start;
        foreach (var chord in sounding)
        {
            if (chord.Key.Onset > at) _spans.Add((rhythm.Values(at, chord.Key.Onset), []));
            _spans.Add((rhythm.Values(chord.Key.Onset, chord.Key.End), [.. chord]));
            at = chord.Key.End;
        }

        if (at == measure.Start && measure.Length.Sign > 0) _spans.Add(([new WrittenValue(at, measure.Length, null, 0, null, false,
            false)], []));
        else if (at < measure.End) _spans.Add((rhythm.Values(at, measure.End), []));
    }

    public Measure Measure { get; }

    public IEnumerable<WrittenValue> Values => _spans.SelectMany(s => s.Values);

    private int Signature => Math.Clamp(Measure.Signature, -7, 7);

    /// <summary>The measure as XML.</summary>
    /// <param name="before">The measure before, whose attributes go on.</param>
    /// <param name="divisions">Divisions of a quarter note.</param>
    /// <param name="isLast">Whether a final bar line closes it.</param>
    /// <param name="symbols">Elements that stand over the first staff, in order of their onsets.</param>
    public XElement ToXml(Measure? before, long divisions, bool isLast,
        IReadOnlyList<(Fraction Onset, Func<Fraction, XElement> Make)>? symbols = null)
    {
        var xml = new XElement("measure", new XAttribute("number", Measure.Number), Measure.IsImplicit ? new XAttribute("implicit", "yes")
            : null);
        if (Attributes(before, divisions) is { HasElements: true } attributes) xml.Add(attributes);
        var next = 0;
        foreach (var staff in _staves)
        {
            if (staff == "2" && Measure.Length.Sign > 0) xml.Add(new XElement("backup",
                new XElement("duration", Whole(Measure.Length * new Fraction(divisions)))));
            var accidentals = new Accidentals();
            foreach (var (values, notes) in _spans)
            {
                var here = notes.Where(n => $"{n.Staff}" == staff).ToArray();
                for (var i = 0; i < values.Count; i++)
                {
                    for (; staff == "1" && symbols is not null && next < symbols.Count && symbols[next].Onset < values[i].Onset
                        + values[i].Duration; next++)
                        xml.Add(symbols[next].Make((symbols[next].Onset - values[i].Onset) * new Fraction(divisions)));
                    xml.Add(here.Length == 0 ? [Rest(values[i], divisions, staff)]
                        : Chord(here, values, i, divisions, staff, accidentals, Signature));
                }
            }
        }

        if (isLast || Measure.EndsWithBarline)
            xml.Add(new XElement("barline", new XAttribute("location", "right"),
                new XElement("bar-style", isLast ? "light-heavy" : "light-light")));
        return xml;
    }

    private XElement Attributes(Measure? before, long divisions)
    {
        var attributes = new XElement("attributes");
        if (before is null) attributes.Add(new XElement("divisions", divisions));
        if (before is null || Math.Clamp(before.Signature, -7, 7) != Signature || before.SignatureMode != Measure.SignatureMode)
        {
            attributes.Add(new XElement(
                "key",
                new XElement("fifths", Signature),
                Measure.SignatureMode is { } mode ? new XElement("mode", mode == Mode.Minor ? "minor" : "major") : null));
        }

        if (before is null || before.Time != Measure.Time)
        {
            attributes.Add(Measure.Time.IsFree
                ? new XElement("time", new XElement("senza-misura"))
                : new XElement("time", new XElement("beats", Measure.Time.Grouping ?? $"{Measure.Time.Beats}"),
                    new XElement("beat-type", Measure.Time.BeatType)));
        }

        if (before is null)
        {
            if (_staves.Length > 1) attributes.Add(new XElement("staves", 2));
            attributes.Add(new XElement("clef", new XAttribute("number", 1), new XElement("sign", "G"), new XElement("line", 2)));
            if (_staves.Length > 1)
                attributes.Add(new XElement("clef", new XAttribute("number", 2), new XElement("sign", "F"), new XElement("line", 4)));
        }

        return attributes;
    }

    private XElement Rest(WrittenValue value, long divisions, string staff)
    {
        var isWhole = value.Onset == Measure.Start && value.Duration == Measure.Length;
        return new XElement(
            "note",
            new XElement("rest", isWhole ? new XAttribute("measure", "yes") : null),
            new XElement("duration", Whole(value.Duration * new Fraction(divisions))),
            new XElement("voice", staff),
            isWhole ? null : Shape(value),
            new XElement("staff", staff),
            Notations(value, false, false, isFirst: true));
    }

    private static IEnumerable<XElement> Chord(
        Note[] notes, IReadOnlyList<WrittenValue> values, int index, long divisions, string staff, Accidentals accidentals, int signature)
    {
        var value = values[index];
        for (var i = 0; i < notes.Length; i++)
        {
            var (pitch, note) = (notes[i].Pitch, notes[i]);
            var stops = index > 0 || note.IsTiedFrom;
            var starts = index + 1 < values.Count || note.IsTiedTo;
            yield return new XElement(
                "note",
                i > 0 ? new XElement("chord") : null,
                new XElement(
                    "pitch",
                    new XElement("step", pitch.Tone.Letter),
                    pitch.Tone.Alteration == 0 ? null : new XElement("alter", pitch.Tone.Alteration),
                    new XElement("octave", pitch.Octave)),
                new XElement("duration", Whole(value.Duration * new Fraction(divisions))),
                stops ? new XElement("tie", new XAttribute("type", "stop")) : null,
                starts ? new XElement("tie", new XAttribute("type", "start")) : null,
                new XElement("voice", staff),
                Shape(value).Take(1 + value.Dots),
                accidentals.Needed(pitch.Tone.Letter, pitch.Octave, pitch.Tone.Alteration, signature, stops) is { } needed
                    ? new XElement("accidental", AccidentalSigns.Name(needed)) : null,
                Shape(value).Skip(1 + value.Dots),
                new XElement("staff", staff),
                Notations(value, stops, starts, i == 0));
        }
    }

    private static IEnumerable<XElement> Shape(WrittenValue value)
    {
        if (value.Type is null) yield break;
        yield return new XElement("type", value.Type);
        for (var i = 0; i < value.Dots; i++) yield return new XElement("dot");
        if (value.Tuplet is { } tuplet)
            yield return new XElement("time-modification", new XElement("actual-notes", tuplet.Actual),
                new XElement("normal-notes", tuplet.Normal));
    }

    private static XElement? Notations(WrittenValue value, bool stops, bool starts, bool isFirst)
    {
        var notations = new XElement(
            "notations",
            stops ? new XElement("tied", new XAttribute("type", "stop")) : null,
            starts ? new XElement("tied", new XAttribute("type", "start")) : null,
            isFirst && value.StartsTuplet ? new XElement("tuplet", new XAttribute("type", "start"), new XAttribute("bracket", "yes"))
                : null,
            isFirst && value.EndsTuplet ? new XElement("tuplet", new XAttribute("type", "stop")) : null);
        return notations.HasElements ? notations : null;
    }

    private static long Whole(Fraction divisions) => divisions.Numerator;
}
