using System.Globalization;
using System.Xml.Linq;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Homework;

/// <summary>
/// A faultless exercise handed in as real classes do: in another key, with measures too many or too few, from the bass up.
/// </summary>
internal static class MessyScore
{
    /// <summary>The exercise a whole tone higher, its key marks with it.</summary>
    public static string Transposed(string xml) => Edit(xml, document =>
    {
        foreach (var pitch in document.Descendants("pitch"))
        {
            var tone = Tone.Of(pitch.Element("step")!.Value[0], Number(pitch.Element("alter")));
            var midi = new Pitch(tone, Number(pitch.Element("octave"))).Midi + 2;
            var up = Pitch.Between(tone + 2, midi, midi).Single();
            pitch.ReplaceNodes(
                new XElement("step", up.Tone.Letter), up.Tone.Alteration == 0 ? null : new XElement("alter", up.Tone.Alteration),
                    new XElement("octave", up.Octave));
        }

        document.Descendants("fifths").Single().Value = "3";
        foreach (var text in document.Descendants("text").Where(t => t.Value.Contains(':', StringComparison.Ordinal)))
            text.Value = (text.Value[0] == 'D' ? "E" : "A") + text.Value[1..];
    });

    /// <summary>The exercise after a pickup measure of a quarter rest.</summary>
    public static string WithPickup(string xml) => Edit(xml, document =>
    {
        var first = document.Descendants("measure").First();
        var attributes = first.Element("attributes")!;
        attributes.Remove();
        var rest = new XElement("note", new XElement("rest"), new XElement("duration", 1), new XElement("voice", 1),
            new XElement("type", "quarter"), new XElement("staff", 1));
        first.AddBeforeSelf(new XElement("measure", new XAttribute("number", "0"), new XAttribute("implicit", "yes"), attributes, rest));
    });

    /// <summary>The exercise without its last measure.</summary>
    public static string WithoutEnd(string xml) => Edit(xml, document => document.Descendants("measure").Last().Remove());

    /// <summary>The exercise with its first half written out again at the end.</summary>
    public static string Repeated(string xml) => Edit(xml, document =>
    {
        var measures = document.Descendants("measure").ToList();
        foreach (var (measure, i) in measures.Take(4).Select((m, i) => (new XElement(m), i)))
        {
            measure.SetAttributeValue("number", measures.Count + i + 1);
            measure.Element("attributes")?.Remove();
            measures[0].Parent!.Add(measure);
        }
    });

    /// <summary>The exercise with every note twice as long, in 4/2.</summary>
    public static string InLongNotes(string xml) => Edit(xml, document =>
    {
        foreach (var duration in document.Descendants("duration")) duration.Value = (2 * Number(duration))
            .ToString(CultureInfo.InvariantCulture);
        foreach (var type in document.Descendants("type")) type.Value = type.Value == "quarter" ? "half" : "whole";
        document.Descendants("beat-type").Single().Value = "2";
    });

    /// <summary>The exercise as chords on two staves.</summary>
    public static string ForPiano(string xml) => Edit(xml, document =>
    {
        foreach (var note in document.Descendants("note")) note.Element("voice")!.Value = note.Element("staff")!.Value == "1" ? "1" : "5";
    });

    /// <summary>The exercise as four parts, the bass first.</summary>
    public static string FromTheBass(string xml) => Edit(xml, document =>
    {
        string[] names = ["Bass", "Tenor", "Alto", "Soprano"];
        var part = document.Descendants("part").Single();
        document.Descendants("part-list").Single().ReplaceNodes(
            names.Select((n, i) => new XElement("score-part", new XAttribute("id", $"V{i}"), new XElement("part-name", n))));
        for (var i = 0; i < names.Length; i++)
        {
            var voice = new XElement(part);
            voice.SetAttributeValue("id", $"V{i}");
            foreach (var element in voice.Descendants().Where(e => e.Name.LocalName is "backup" or "staves"
                || (e.Name == "clef" && e.Attribute("number")!.Value != (i < 2 ? "2" : "1"))
                || (e.Name == "note" && e.Element("voice")!.Value != $"{4 - i}")).ToList()) element.Remove();
            foreach (var note in voice.Descendants("note")) note.Element("staff")!.Remove();
            foreach (var clef in voice.Descendants("clef")) clef.Attribute("number")!.Remove();
            part.AddBeforeSelf(voice);
        }

        part.Remove();
    });

    /// <summary>The exercise with other labels.</summary>
    public static string Labelled(string xml, Func<string, int, string> label) => Edit(xml, document =>
    {
        foreach (var (text, i) in document.Descendants("text").ToList().Select((t, i) => (t, i)))
        {
            text.Value = label(text.Value, i);
            if (text.Value.Length == 0) text.Parent!.Remove();
        }
    });

    private static int Number(XElement? element) => element is null ? 0 : int.Parse(element.Value, CultureInfo.InvariantCulture);

    private static string Edit(string xml, Action<XDocument> edit)
    {
        var document = XDocument.Parse(xml);
        edit(document);
        return document.Declaration + "\n" + document + "\n";
    }
}
