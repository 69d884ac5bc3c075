using System.Text;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Tests.Notation.MusicXml;

/// <summary>Small MusicXML scores for tests.</summary>
internal static class Xml
{
    public static Score Read(string text) => MusicXmlReader.Read(MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(text)));

    /// <summary>A score of one part, each measure given by its contents.</summary>
    public static string Partwise(params string[] measures) => Parts(measures);

    /// <summary>A score of several parts.</summary>
    public static string Parts(params string[][] parts) =>
        "<score-partwise version=\"4.0\"><part-list>"
        + string.Concat(parts.Select((_, i) => $"<score-part id=\"P{i + 1}\"><part-name>Part {i + 1}</part-name></score-part>"))
        + "</part-list>"
        + string.Concat(parts.Select((p, i) => $"<part id=\"P{i + 1}\">" + string.Concat(p.Select(Measure)) + "</part>"))
        + "</score-partwise>";

    /// <summary>A note: <c>C4 2</c>, <c>Bb3 1</c>, <c>rest 1</c>, with further children before the duration and after it.</summary>
    public static string Note(string note, string before = "", string after = "")
    {
        var (name, duration) = (note.Split(' ')[0], note.Split(' ')[1]);
        var alter = name.Count(c => c == '#') - name.Skip(1).Count(c => c == 'b');
        var pitch = name == "rest"
            ? "<rest/>"
            : $"<pitch><step>{name[0]}</step>{(alter == 0 ? "" : $"<alter>{alter}</alter>")}<octave>{name[^1]}</octave></pitch>";
        return $"<note>{before}{pitch}<duration>{duration}</duration>{after}</note>";
    }

    public static string Notes(params string[] notes) => string.Concat(notes.Select(n => Note(n)));

    public static string Attributes(string content) => $"<attributes>{content}</attributes>";

    public static string Divisions(int divisions) => Attributes($"<divisions>{divisions}</divisions>");

    public static string Time(string beats, int type) => Attributes($"<time><beats>{beats}</beats><beat-type>{type}</beat-type></time>");

    public static string Backup(string duration) => $"<backup><duration>{duration}</duration></backup>";

    private static string Measure(string content, int index) =>
        content.StartsWith("<measure", StringComparison.Ordinal) ? content : $"<measure number=\"{index + 1}\">{content}</measure>";
}
