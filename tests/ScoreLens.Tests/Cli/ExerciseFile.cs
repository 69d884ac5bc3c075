using System.Globalization;
using System.Xml.Linq;
using ScoreLens.TestKit.PlantedFaults;

namespace ScoreLens.Tests.Cli;

/// <summary>Writes small exercises in C major, 4/4, as MusicXML: a part a voice, as a notation program exports them.</summary>
internal static class ExerciseFile
{
    /// <summary>
    /// The document. A voice is notes with optional lengths in quarters (<c>C5:2</c>), each measure filled exactly; figures stand
    /// before the note of the last voice that they belong to, in its order, <c>-</c> for none, a comma between figures.
    /// </summary>
    public static string Write(string[] voices, string? figures = null, string[]? labels = null)
    {
        var names = new[] { "Soprano", "Alto", "Tenor", "Bass" };
        var document = new XElement(
            "score-partwise", new XAttribute("version", "4.0"),
            new XElement("part-list", voices.Select((_, p) => new XElement("score-part", new XAttribute("id", $"P{p + 1}"),
                new XElement("part-name", voices.Length == 4 ? names[p] : "Voice")))),
            voices.Select((line, p) => Part(p, line, p == voices.Length - 1 ? figures?.Split(' ') : null, p == voices.Length - 1 ? labels
                : null)));
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + document;
    }

    private static XElement Part(int part, string line, string[]? figures, string[]? labels)
    {
        var measures = new List<XElement>();
        var filled = 4;
        var place = 0;
        foreach (var token in line.Split(' '))
        {
            var pieces = token.Split(':');
            var quarters = pieces.Length > 1 ? int.Parse(pieces[1], CultureInfo.InvariantCulture) : 1;
            if (filled == 4)
            {
                measures.Add(new XElement("measure", new XAttribute("number", measures.Count + 1), measures.Count == 0 ? Attributes(line)
                    : null));
                filled = 0;
            }

            if (figures?[place] is { } figure && figure != "-") measures[^1].Add(FiguredBass(figure));
            measures[^1].Add(Note(pieces[0], quarters, labels?[place]));
            filled += quarters;
            place++;
        }

        return new XElement("part", new XAttribute("id", $"P{part + 1}"), measures);
    }

    private static XElement Attributes(string line) => new(
        "attributes",
        new XElement("divisions", 1),
        new XElement("key", new XElement("fifths", 0)),
        new XElement("time", new XElement("beats", 4), new XElement("beat-type", 4)),
        new XElement("clef", line[1] < '4' ? [new XElement("sign", "F"), new XElement("line", 4)]
            : new[] { new XElement("sign", "G"), new XElement("line", 2) }));

    private static XElement FiguredBass(string figures) => new(
        "figured-bass",
        figures.Split(',').Select(f => new XElement(
            "figure",
            f[0] is '#' ? new XElement("prefix", "sharp") : null,
            f.TrimStart('#') is { Length: > 0 } number ? new XElement("figure-number", number) : null)));

    private static XElement Note(string name, int quarters, string? label)
    {
        var pitch = Exercise.ParsePitch(name);
        return new XElement(
            "note",
            new XElement("pitch", new XElement("step", pitch.Tone.Letter.ToString()), pitch.Tone.Alteration == 0 ? null
                : new XElement("alter", pitch.Tone.Alteration), new XElement("octave", pitch.Octave)),
            new XElement("duration", quarters),
            new XElement("voice", 1),
            new XElement("type", quarters switch { 1 => "quarter", 2 => "half", _ => "whole" }),
            string.IsNullOrEmpty(label) ? null : new XElement("lyric", new XAttribute("number", 1), new XElement("text", label)));
    }
}
