using System.Xml.Linq;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Reads a <c>figured-bass</c> element as text.</summary>
internal static class FigureReader
{
    /// <summary>
    /// The figures from the top down, a blank between them: accidentals as <c>#</c>, <c>b</c>, <c>n</c> before or after the
    /// number as they are written, a raised figure's stroke as <c>+</c>, an extension line alone as <c>_</c>. Empty where nothing is
    /// written.
    /// </summary>
    public static string Read(XElement figuredBass)
    {
        var figures = figuredBass.Elements().Where(e => e.Name.LocalName == "figure").Select(Figure).Where(f => f.Length > 0);
        return string.Join(' ', figures);
    }

    /// <summary>Whether a line of extension leads on from the figures.</summary>
    public static bool HasLine(XElement figuredBass) => figuredBass.Elements().Where(e => e.Name.LocalName == "figure")
        .Any(f => Child(f, "extend") is { } line && line.Attribute("type")?.Value != "stop");

    private static string Figure(XElement figure)
    {
        var text = Sign(Text(figure, "prefix")) + (Text(figure, "figure-number") ?? "") + Sign(Text(figure, "suffix"));
        return text.Length == 0 && Child(figure, "extend") is not null ? "_" : text;
    }

    private static string Sign(string? sign) => sign switch
    {
        "sharp" => "#",
        "flat" => "b",
        "natural" => "n",
        "double-sharp" or "sharp-sharp" => "##",
        "flat-flat" or "double-flat" => "bb",
        "natural-sharp" => "n#",
        "natural-flat" => "nb",
        "plus" or "slash" or "back-slash" or "backslash" or "vertical" or "cross" => "+",
        _ => "",
    };
}
