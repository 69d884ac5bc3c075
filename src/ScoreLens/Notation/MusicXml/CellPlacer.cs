using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Walks the measures of one part in order and says when each of their elements stands.</summary>
internal sealed class CellPlacer(Fraction firstDivisions)
{
    private Fraction _divisions = firstDivisions;
    private Fraction _nominal = TimeSignature.Common.Length;

    /// <summary>How far the contents of the last cell reach, leaving out rests through the whole measure.</summary>
    public Fraction Content { get; private set; }

    /// <summary>The length of the longest rest through the whole measure in the last cell.</summary>
    public Fraction FullRest { get; private set; }

    /// <summary>The time signature that the last cell states at its start, if it does.</summary>
    public TimeSignature? TimeAtStart { get; private set; }

    /// <summary>The time signature that the last cell states later on, for the measure that follows.</summary>
    public TimeSignature? TimeLater { get; private set; }

    /// <summary>The children of a cell in document order, placed.</summary>
    public PlacedElement[] Place(XElement cell)
    {
        (Content, FullRest, TimeAtStart, TimeLater) = (default, default, null, null);
        Fraction cursor = default, chordOnset = default, figures = default;
        var placed = new List<PlacedElement>();
        for (var node = cell.FirstNode; node is not null; node = node.NextNode)
        {
            if (node is not XElement element) continue;
            var at = cursor;
            var length = Fraction.Zero;
            switch (element.Name.LocalName)
            {
                case "attributes": ReadAttributes(element, cursor); break;
                case "note":
                    length = NoteLength(element, cursor, out var isChord, out var isFullRest);
                    if (isChord) at = chordOnset;
                    else (chordOnset, cursor) = (cursor, cursor + length);
                    if (isFullRest) FullRest = Fraction.Max(FullRest, at + length);
                    else Content = Fraction.Max(Content, at + length);
                    figures = default;
                    break;
                case "backup":
                    // A backup past the start of the measure is a rounding error of the exporter: the start is meant.
                    cursor = Fraction.Max(Fraction.Zero, cursor - Duration(element));
                    figures = default;
                    break;
                case "forward":
                    cursor += Duration(element);
                    Content = Fraction.Max(Content, cursor);
                    figures = default;
                    break;
                case "figured-bass":
                    // Figures that follow each other under one note advance by their own duration.
                    at += figures;
                    length = Duration(element);
                    figures += length;
                    break;
            }

            placed.Add(new(element, at, _divisions) { Length = length });
        }

        return [.. placed];
    }

    private void ReadAttributes(XElement attributes, Fraction cursor)
    {
        if (Child(attributes, "divisions") is { } d)
        {
            var divisions = Number(d);
            if (divisions.Sign <= 0) throw new ScoreFormatException($"divisions is {divisions}; it must be above zero.",
                MusicXmlLayout.Where(d));
            _divisions = divisions;
        }

        // Staves may state theirs one after the other: the top one's counts.
        var time = attributes.Elements().Where(e => e.Name.LocalName == "time").Select(Metres.Read).FirstOrDefault(t => t is not null);
        if (time is not { } stated) return;
        _nominal = stated.Length;
        if (cursor.Sign == 0) TimeAtStart ??= stated;
        else TimeLater = stated;
    }

    private Fraction NoteLength(XElement note, Fraction cursor, out bool isChord, out bool isFullRest)
    {
        XElement? duration = null, rest = null;
        isChord = isFullRest = false;
        var isGrace = false;
        for (var node = note.FirstNode; node is not null; node = node.NextNode)
        {
            if (node is not XElement child) continue;
            switch (child.Name.LocalName)
            {
                case "chord": isChord = true; break;
                case "grace": isGrace = true; break;
                case "rest": rest = child; break;
                case "duration": duration = child; break;
            }
        }

        if (isGrace) return Fraction.Zero;
        isFullRest = rest?.Attribute("measure")?.Value == "yes" && cursor.Sign == 0;
        if (duration is not null) return Time(duration) / _divisions;
        return NoteLengths.Of(note) ?? (rest is null ? Fraction.Zero : Fraction.Max(Fraction.Zero, _nominal - cursor));
    }

    private Fraction Duration(XElement element) => Child(element, "duration") is { } duration ? Time(duration) / _divisions : Fraction.Zero;
}
