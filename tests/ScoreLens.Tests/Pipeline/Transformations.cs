using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Pipeline;

/// <summary>Changes to a score under which a reading must stay what it is, or change in a known way.</summary>
internal static class Transformations
{
    /// <summary>Our own scores, by name.</summary>
    public static IEnumerable<string> OwnScores => Directory.EnumerateFiles(Places.TestData, "*.musicxml", SearchOption.TopDirectoryOnly)
        .Select(path => Path.GetFileName(path)!).Order(StringComparer.Ordinal);

    public static XDocument Xml(string name) => MusicXmlDocument.Load(Path.Combine(Places.TestData, name)).Xml;

    public static Score Read(XDocument xml) =>
        ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes(xml.ToString(SaveOptions.DisableFormatting))).Score;

    /// <summary>The score by a number of fifths higher on the line of fifths, every pitch moved to the nearest such tone.</summary>
    public static Score Transposed(Score score, int fifths)
    {
        return score with
        {
            Measures = [.. score.Measures.Select(m => m with { Signature = m.Signature + fifths })],
            Notes = [.. score.Notes.Select(n => n with { Pitch = Move(n.Pitch) })],
            ChordSymbols = [.. score.ChordSymbols.Select(s => s with
            {
                Root = s.Root is { } root ? root + fifths : null,
                Bass = s.Bass is { } bass ? bass + fifths : null,
                Tones = [.. s.Tones.Select(t => t + fifths)],
            })],
        };

        // One direction for every note, so that no interval is turned over: less than an octave up or down.
        Pitch Move(Pitch pitch)
        {
            var semitones = ((fifths * 7) % 12 + 12) % 12;
            if (semitones > 6) semitones -= 12;
            var tone = pitch.Tone + fifths;
            for (var octave = pitch.Octave - 1; octave <= pitch.Octave + 1; octave++)
            {
                var moved = new Pitch(tone, octave);
                if (moved.Midi == pitch.Midi + semitones) return moved;
            }

            throw new InvalidOperationException($"{pitch} cannot be moved by {fifths} fifths.");
        }
    }

    /// <summary>The score with every note of at least <paramref name="least"/> quarter notes written as two tied ones.</summary>
    public static Score Split(Score score, Fraction least)
    {
        var notes = new List<Note>();
        foreach (var note in score.Notes)
        {
            if (!note.IsHarmonic || note.Duration < least)
            {
                notes.Add(note);
                continue;
            }

            const NoteMarks ending = NoteMarks.Fermata | NoteMarks.SlurStop | NoteMarks.BreathAfter | NoteMarks.TieStart;
            var first = note.Duration / 3;
            notes.Add(note with { Duration = first, Marks = (note.Marks & ~ending) | NoteMarks.TieStart });
            notes.Add(note with
            {
                Onset = note.Onset + first,
                Duration = note.Duration - first,
                Marks = (note.Marks & ~NoteMarks.SlurStart) | NoteMarks.TieStop,
            });
        }

        return score with { Notes = [.. notes.OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff)] };
    }

    /// <summary>The same document with measures outside and parts inside.</summary>
    public static XDocument Timewise(XDocument partwise)
    {
        var root = new XElement(partwise.Root!);
        var parts = root.Elements("part").ToList();
        foreach (var part in parts) part.Remove();
        root.Name = "score-timewise";
        var count = parts.Max(p => p.Elements("measure").Count());
        for (var i = 0; i < count; i++)
        {
            var sources = parts.Select(p => (Part: p, Measure: p.Elements("measure").ElementAtOrDefault(i)))
                .Where(s => s.Measure is not null).ToList();
            root.Add(new XElement(
                "measure",
                sources[0].Measure!.Attributes(),
                sources.Select(s => new XElement("part", s.Part.Attributes(), s.Measure!.Nodes()))));
        }

        return new XDocument(root);
    }
}
