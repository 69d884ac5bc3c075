using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Numbers of MusicXML elements, with bounds: what is outside them is an error with its place, never an overflow.</summary>
internal static class MusicXmlNumbers
{
    /// <summary>Longest time that is read, in divisions; a measure of a thousand whole notes has fewer.</summary>
    public const int MaxDivisions = 1_000_000_000;

    /// <summary>The first child of a name, in whatever namespace.</summary>
    public static XElement? Child(XElement element, string name)
    {
        for (var node = element.FirstNode; node is not null; node = node.NextNode)
            if (node is XElement child && child.Name.LocalName == name) return child;
        return null;
    }

    /// <summary>The trimmed text of a child; null where there is none or it is blank.</summary>
    public static string? Text(XElement element, string name) => Child(element, name)?.Value.Trim() is { Length: > 0 } text ? text : null;

    /// <summary>A decimal number, exact; at most nine digits before the point.</summary>
    public static Fraction Number(XElement element)
    {
        var text = element.Value;
        if (int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var whole)
            && whole is <= MaxDivisions and >= -MaxDivisions) return whole;
        if (text.Contains('/', StringComparison.Ordinal) || !Fraction.TryParse(text.TrimStart().TrimStart('+'),
            CultureInfo.InvariantCulture, out var value))
            throw new ScoreFormatException($"{element.Name.LocalName} is '{Shortened(text)}', which is not a number.",
                MusicXmlLayout.Where(element));
        if (value > MaxDivisions || value < -MaxDivisions)
            throw new ScoreFormatException($"{element.Name.LocalName} is {Shortened(text)}, which is too large.",
                MusicXmlLayout.Where(element));
        return value;
    }

    /// <summary>A number that is zero or more.</summary>
    public static Fraction Time(XElement element)
    {
        var value = Number(element);
        return value.Sign >= 0
            ? value
            : throw new ScoreFormatException($"{element.Name.LocalName} is {value}; it cannot be negative.", MusicXmlLayout.Where(element));
    }

    /// <summary>A whole number inside bounds; fractions are cut off below.</summary>
    public static int Integer(XElement element, int low, int high)
    {
        var value = Number(element).Floor();
        return value >= low && value <= high
            ? (int)value
            : throw new ScoreFormatException($"{element.Name.LocalName} is {value}; it lies between {low} and {high}.",
                MusicXmlLayout.Where(element));
    }

    /// <summary>A whole number of a child, or a value where there is no such child or it is blank.</summary>
    public static int Integer(XElement parent, string name, int low, int high, int otherwise) =>
        Child(parent, name) is { } child && !string.IsNullOrWhiteSpace(child.Value) ? Integer(child, low, high) : otherwise;

    private static string Shortened(string text) => text.Length <= 40 ? text.Trim() : text[..40].Trim() + "…";
}
