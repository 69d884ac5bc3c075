using System.Text.RegularExpressions;
using System.Xml.Linq;
using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Reads da capo, dal segno, fine and coda from a <c>direction</c> or <c>sound</c>: from what is to be played where the file states it,
/// else from signs and words as they are printed.
/// </summary>
internal static partial class RoadSignReader
{
    /// <summary>The signs of an element; <see cref="RoadSigns.None"/> for nearly all.</summary>
    public static RoadSigns Of(XElement element)
    {
        var sound = element.Name.LocalName == "sound" ? element : Child(element, "sound");
        var words = Words(element);
        var stated = sound is null ? RoadSigns.None : new RoadSigns
        {
            Segno = sound.Attribute("segno") is not null,
            Coda = sound.Attribute("coda") is not null,
            DaCapo = sound.Attribute("dacapo")?.Value == "yes",
            DalSegno = sound.Attribute("dalsegno") is not null,
            ToCoda = sound.Attribute("tocoda") is not null,
            // The value may also be the time at which the last note ends.
            Fine = sound.Attribute("fine") is { Value: not "no" },
        };
        if (stated == RoadSigns.None) return Printed(element, words);
        return stated.GoesBack ? stated with { AlFine = AlFine().IsMatch(words), AlCoda = AlCoda().IsMatch(words) } : stated;
    }

    private static RoadSigns Printed(XElement element, string words)
    {
        var signs = element.Elements().Where(e => e.Name.LocalName == "direction-type").Elements().Select(e =>
            e.Name.LocalName).ToHashSet();
        var toCoda = words is "to coda" or "al coda";
        // "D.S." is printed with a segno beside it.
        var (daCapo, dalSegno) = (DaCapo().IsMatch(words), DalSegno().IsMatch(words));
        var found = new RoadSigns
        {
            Segno = signs.Contains("segno") && !dalSegno,
            Coda = words == "coda",
            CodaSign = signs.Contains("coda") && words.Length == 0,
            DaCapo = daCapo,
            DalSegno = dalSegno,
            ToCoda = toCoda || (signs.Contains("coda") && words == "to"),
            Fine = words == "fine",
            AlFine = (daCapo || dalSegno) && AlFine().IsMatch(words),
            AlCoda = (daCapo || dalSegno) && AlCoda().IsMatch(words),
        };
        return found == RoadSigns.None ? RoadSigns.None : found;
    }

    private static string Words(XElement element)
    {
        if (element.Name.LocalName != "direction") return "";
        var words = element.Elements().Where(e => e.Name.LocalName == "direction-type").Elements()
            .Where(e => e.Name.LocalName == "words").Select(e => e.Value);
        return Spaces().Replace(string.Join(' ', words).Replace('.', ' '), " ").Trim().ToLowerInvariant();
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();

    // "D.C.", "D. C.", "Menuetto da capo".
    [GeneratedRegex(@"(^| )(d ?c|da capo)( |$)")]
    private static partial Regex DaCapo();

    [GeneratedRegex(@"(^| )(d ?s|dal segno)( |$)")]
    private static partial Regex DalSegno();

    [GeneratedRegex(@"(^| )al fine( |$)")]
    private static partial Regex AlFine();

    [GeneratedRegex(@"(^| )(al|e( poi)?( la)?) coda( |$)")]
    private static partial Regex AlCoda();
}
