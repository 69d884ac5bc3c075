using System.Xml.Linq;

namespace ScoreLens.Notation.MusicXml;

/// <summary>The marks of a note that matter to harmony and phrasing.</summary>
internal static class NoteMarksReader
{
    /// <summary>A <c>tie</c>, which sounds, or a <c>tied</c>, which is drawn: older exporters write one of the two.</summary>
    public static NoteMarks Tie(XElement tie) => tie.Attribute("type")?.Value switch
    {
        "start" => NoteMarks.TieStart,
        "stop" => NoteMarks.TieStop,
        "continue" => NoteMarks.TieStart | NoteMarks.TieStop,
        _ => NoteMarks.None,
    };

    /// <summary>What a <c>notations</c> element marks.</summary>
    public static NoteMarks Notations(XElement notations)
    {
        var marks = NoteMarks.None;
        foreach (var notation in notations.Elements())
        {
            marks |= (notation.Name.LocalName, notation.Attribute("type")?.Value) switch
            {
                ("tied", _) => Tie(notation),
                ("fermata", _) => NoteMarks.Fermata,
                ("slur", "start") => NoteMarks.SlurStart,
                ("slur", "stop") => NoteMarks.SlurStop,
                ("articulations", _) when notation.Elements().Any(e => e.Name.LocalName is "breath-mark" or "caesura") =>
                    NoteMarks.BreathAfter,
                _ => NoteMarks.None,
            };
        }

        return marks;
    }
}
