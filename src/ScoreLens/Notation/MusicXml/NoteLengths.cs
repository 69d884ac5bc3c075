using System.Xml.Linq;
using ScoreLens.Theory;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>The length that a note's written shape stands for: its type, dots and tuplet. Used where durations are missing.</summary>
internal static class NoteLengths
{
    /// <summary>Quarter notes of a note-type-value (MusicXML 4.0), or null for an unknown one.</summary>
    public static Fraction? OfType(string? type) => type switch
    {
        "maxima" => 32,
        "long" => 16,
        "breve" => 8,
        "whole" => 4,
        "half" => 2,
        "quarter" => 1,
        "eighth" => new Fraction(1, 2),
        "16th" => new Fraction(1, 4),
        "32nd" => new Fraction(1, 8),
        "64th" => new Fraction(1, 16),
        "128th" => new Fraction(1, 32),
        "256th" => new Fraction(1, 64),
        "512th" => new Fraction(1, 128),
        "1024th" => new Fraction(1, 256),
        _ => null,
    };

    /// <summary>A length with dots, at most eight of them.</summary>
    public static Fraction Dotted(Fraction length, int dots)
    {
        var total = length;
        for (var i = 0; i < Math.Min(dots, 8); i++) total += length /= 2;
        return total;
    }

    /// <summary>Quarter notes that a note's type, dots and time modification stand for, or null where it has no type.</summary>
    public static Fraction? Of(XElement note)
    {
        if (OfType(Text(note, "type")) is not { } length) return null;
        length = Dotted(length, note.Elements().Count(e => e.Name.LocalName == "dot"));
        if (Child(note, "time-modification") is not { } tuplet) return length;
        var actual = Integer(tuplet, "actual-notes", 1, 1000, 1);
        var normal = Integer(tuplet, "normal-notes", 1, 1000, 1);
        return length * new Fraction(normal, actual);
    }
}
