using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>Reads tempos: the <c>tempo</c> of <c>sound</c>, which is quarter notes a minute, else a metronome mark.</summary>
internal static partial class TempoReader
{
    // Slower or faster than any music: a slip of a program.
    private const double Slowest = 5, Fastest = 1000;

    /// <summary>Quarter notes a minute of a <c>direction</c> or <c>sound</c>; null where it states none that is possible.</summary>
    public static double? Read(XElement element)
    {
        var sound = element.Name.LocalName == "sound" ? element : Child(element, "sound");
        if (sound?.Attribute("tempo")?.Value is { } text && Number(text) is { } tempo && IsPossible(tempo)) return tempo;
        var metronome = element.Elements().Where(e => e.Name.LocalName == "direction-type").Elements()
            .FirstOrDefault(e => e.Name.LocalName == "metronome");
        if (metronome is null || Text(metronome, "beat-unit") is not { } unit || NoteLengths.OfType(unit) is not { } length) return null;
        // A modulation has two units and no number.
        if (Text(metronome, "per-minute") is not { } written || FirstNumber().Match(written) is not { Success: true } match) return null;
        var dots = metronome.Elements().Count(e => e.Name.LocalName == "beat-unit-dot");
        var beats = double.Parse(match.Value, CultureInfo.InvariantCulture);
        var quarters = beats * NoteLengths.Dotted(length, dots).ToDouble();
        return IsPossible(quarters) ? quarters : null;
    }

    private static bool IsPossible(double tempo) => tempo is >= Slowest and <= Fastest;

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) ? number : null;

    // "c. 96", "96-100".
    [GeneratedRegex(@"\d{1,4}(\.\d{1,4})?", RegexOptions.CultureInvariant)]
    private static partial Regex FirstNumber();
}
