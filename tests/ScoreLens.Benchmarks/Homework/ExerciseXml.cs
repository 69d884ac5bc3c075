using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>Writes an exercise as MusicXML: two staves, two voices each, labels as lyrics of the bass.</summary>
internal static class ExerciseXml
{
    /// <summary>The document.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="inner">Alto and tenor of each chord; null for the given outer voices alone.</param>
    /// <param name="labels">The label of each chord, empty for none; or null.</param>
    public static string Write(string title, IReadOnlyList<(Pitch Alto, Pitch Tenor)>? inner, IReadOnlyList<string>? labels)
    {
        var measures = new List<XElement>();
        var chords = Exercise.Chords;
        for (int i = 0, number = 1; i < chords.Count; number++)
        {
            var filled = 0;
            var first = i;
            while (i < chords.Count && filled < 4) filled += chords[i++].Quarters;
            var measure = new XElement("measure", new XAttribute("number", number.ToString(CultureInfo.InvariantCulture)));
            if (number == 1) measure.Add(Attributes());
            AddVoice(1, 1, "up", c => chords[c].Soprano, false);
            if (inner is not null) AddVoice(2, 1, "down", c => inner[c].Alto, false);
            if (inner is not null) AddVoice(3, 2, "up", c => inner[c].Tenor, false);
            AddVoice(4, 2, "down", c => chords[c].Bass, true);
            if (i == chords.Count) measure.Add(new XElement("barline", new XAttribute("location", "right"),
                new XElement("bar-style", "light-heavy")));
            measures.Add(measure);

            void AddVoice(int voice, int staff, string stem, Func<int, Pitch> pitch, bool labelled)
            {
                if (voice > 1) measure.Add(new XElement("backup", new XElement("duration", 4)));
                for (var c = first; c < i; c++)
                    measure.Add(Note(pitch(c), chords[c].Quarters, voice, staff, stem, labelled ? labels?[c] ?? "" : ""));
            }
        }

        var document = new XDocument(
            new XDeclaration("1.0", "UTF-8", null),
            new XDocumentType("score-partwise", "-//Recordare//DTD MusicXML 4.0 Partwise//EN", "http://www.musicxml.org/dtds/partwise.dtd",
                null),
            new XElement(
                "score-partwise", new XAttribute("version", "4.0"),
                new XElement("work", new XElement("work-title", title)),
                new XElement("part-list", new XElement("score-part", new XAttribute("id", "P1"), new XElement("part-name", "Chorale"))),
                new XElement("part", new XAttribute("id", "P1"), measures)));
        return document.Declaration + "\n" + document + "\n";
    }

    private static XElement Attributes() => new(
        "attributes",
        new XElement("divisions", 1),
        new XElement("key", new XElement("fifths", 1), new XElement("mode", "major")),
        new XElement("time", new XElement("beats", 4), new XElement("beat-type", 4)),
        new XElement("staves", 2),
        new XElement("clef", new XAttribute("number", 1), new XElement("sign", "G"), new XElement("line", 2)),
        new XElement("clef", new XAttribute("number", 2), new XElement("sign", "F"), new XElement("line", 4)));

    private static XElement Note(Pitch pitch, int quarters, int voice, int staff, string stem, string label)
    {
        var note = new XElement(
            "note",
            new XElement(
                "pitch",
                new XElement("step", pitch.Tone.Letter.ToString()),
                pitch.Tone.Alteration == 0 ? null : new XElement("alter", pitch.Tone.Alteration),
                new XElement("octave", pitch.Octave)),
            new XElement("duration", quarters),
            new XElement("voice", voice),
            new XElement("type", quarters == 1 ? "quarter" : "half"),
            quarters == 3 ? new XElement("dot") : null,
            new XElement("stem", stem),
            new XElement("staff", staff));
        if (label.Length > 0)
            note.Add(new XElement("lyric", new XAttribute("number", 1), new XElement("syllabic", "single"), new XElement("text", label)));
        return note;
    }
}
