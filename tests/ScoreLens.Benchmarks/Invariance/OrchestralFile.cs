using System.Globalization;
using System.Text;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Invariance;

/// <summary>
/// A score set for an orchestra of twenty parts as a MusicXML file: every voice is doubled in its own and other octaves, the winds rest in
/// every other passage, clarinets, horns, trumpets and the double bass are written as they transpose.
/// </summary>
internal sealed class OrchestralFile
{
    private const int PassageMeasures = 8;

    // Name, register from the lowest voice (0) to the highest (1), octaves from the voice, what is added to the written pitch to get the
    // sounding one (letters, semitones), and in which passages it rests (2: in none).
    private static readonly Instrument[] Instruments =
    [
        new("Flute 1", 1, 1, 0, 0, 0), new("Flute 2", 0.67, 1, 0, 0, 1), new("Oboe 1", 1, 0, 0, 0, 1), new("Oboe 2", 0.67, 0, 0, 0, 0),
        new("Clarinet in Bb 1", 1, 0, -1, -2, 0), new("Clarinet in Bb 2", 0.67, 0, -1, -2, 0), new("Bassoon 1", 0.33, 0, 0, 0, 1),
        new("Bassoon 2", 0, 0, 0, 0, 0), new("Horn in F 1", 0.67, 0, -4, -7, 1), new("Horn in F 2", 0.33, 0, -4, -7, 0),
        new("Horn in F 3", 0.67, 0, -4, -7, 0), new("Horn in F 4", 0.33, 0, -4, -7, 1), new("Trumpet in Bb", 1, 0, -1, -2, 1),
        new("Trombone", 0.33, 0, 0, 0, 0), new("Tuba", 0, -1, 0, 0, 1), new("Violin 1", 1, 0, 0, 0, 2), new("Violin 2", 0.67, 0, 0, 0, 2),
        new("Viola", 0.33, 0, 0, 0, 2), new("Cello", 0, 0, 0, 0, 2), new("Double bass", 0, -1, -7, -12, 2),
    ];

    private readonly Score _score;
    private readonly int _divisions;
    private readonly List<Note>[] _parts;

    private OrchestralFile(Score score)
    {
        _score = score;
        _divisions = (int)score.Notes.Aggregate(1L, (d, n) => Common(Common(d, n.Onset.Denominator), n.Duration.Denominator));
        var voices = score.Notes.Where(n => n.IsHarmonic).GroupBy(n => (n.Part, n.Staff, n.Voice))
            .OrderBy(g => g.Average(n => n.Pitch.Midi)).Select(g => g.ToArray()).ToArray();
        _parts = [.. Instruments.Select(_ => new List<Note>())];
        var heard = new HashSet<int>();
        for (var i = 0; i < Instruments.Length; i++)
        {
            var voice = (int)Math.Round(Instruments[i].Register * (voices.Length - 1));
            if (Instruments[i].Rests == 2) heard.Add(voice);
            Give(i, voices[voice], "1");
        }

        // Every voice is in the strings from end to end; what is left over is a second voice of the violas.
        var viola = Array.FindIndex(Instruments, i => i.Name == "Viola");
        foreach (var voice in Enumerable.Range(0, voices.Length).Except(heard)) Give(viola, voices[voice], $"{voice + 2}");
    }

    private readonly record struct Instrument(string Name, double Register, int Octave, int Letters, int Semitones, int Rests)
    {
        public int Fifths => (7 * Semitones) - (12 * Letters);
    }

    /// <summary>Writes a score for the orchestra and reads the file.</summary>
    public static Score Of(Score score) => ScoreFile.Parse(new OrchestralFile(score).Write()).Score;

    private void Give(int instrument, Note[] voice, string name)
    {
        foreach (var note in voice)
        {
            var octave = note.Pitch.Octave + Instruments[instrument].Octave;
            if (_score.MeasureAt(note.Onset).Index / PassageMeasures % 2 == Instruments[instrument].Rests || octave is < 0 or > 8) continue;
            _parts[instrument].Add(note with { Pitch = new Pitch(note.Pitch.Tone, octave), Voice = name });
        }
    }

    private static long Common(long a, long b)
    {
        var (x, y) = (a, b);
        while (y != 0) (x, y) = (y, x % y);
        return a / x * b;
    }

    private byte[] Write() => Encoding.UTF8.GetBytes(new XElement("score-partwise", new XAttribute("version", "4.0"),
        new XElement("part-list", Instruments.Select((p, i) => new XElement("score-part", Id(i), new XElement("part-name", p.Name)))),
        Instruments.Select((p, i) => new XElement("part", Id(i), _score.Measures.Select(m => Measure(p, _parts[i], m))))).ToString());

    private static XAttribute Id(int part) => new("id", string.Create(CultureInfo.InvariantCulture, $"P{part + 1}"));

    private XElement Measure(Instrument instrument, List<Note> notes, Measure measure)
    {
        var element = new XElement("measure", new XAttribute("number", measure.Number));
        if (measure.IsImplicit) element.Add(new XAttribute("implicit", "yes"));
        var before = measure.Index == 0 ? null : _score.Measures[measure.Index - 1];
        if (before is null || before.Signature != measure.Signature || before.Time != measure.Time)
        {
            var attributes = new XElement("attributes", new XElement("divisions", _divisions),
                new XElement("key", new XElement("fifths", measure.Signature - instrument.Fifths)),
                new XElement("time", new XElement("beats", measure.Time.Beats), new XElement("beat-type", measure.Time.BeatType)));
            if (instrument.Semitones != 0) attributes.Add(new XElement("transpose",
                new XElement("diatonic", instrument.Letters), new XElement("chromatic", instrument.Semitones)));
            element.Add(attributes);
        }

        var at = measure.Start;
        foreach (var voice in notes.Where(n => n.Onset >= measure.Start && n.Onset < measure.End).GroupBy(n => n.Voice))
        {
            foreach (var chord in voice.GroupBy(n => (n.Onset, n.Duration)).OrderBy(g => g.Key.Onset))
            {
                MoveTo(element, ref at, chord.Key.Onset);
                foreach (var (i, note) in chord.Index()) element.Add(Written(instrument, note, i > 0));
                at += chord.Key.Duration;
            }
        }

        MoveTo(element, ref at, measure.End);
        if (measure.EndsWithBarline) element.Add(new XElement("barline", new XAttribute("location", "right"),
            new XElement("bar-style", "light-heavy")));
        return element;
    }

    private void MoveTo(XElement measure, ref Fraction at, Fraction time)
    {
        if (at != time) measure.Add(new XElement(time < at ? "backup" : "forward", Duration(time < at ? at - time : time - at)));
        at = time;
    }

    private XElement Written(Instrument instrument, Note note, bool isChord)
    {
        var midi = note.Pitch.Midi - instrument.Semitones;
        var pitch = Pitch.Between(note.Pitch.Tone + -instrument.Fifths, midi, midi).First();
        var element = new XElement("note");
        if (isChord) element.Add(new XElement("chord"));
        element.Add(new XElement("pitch", new XElement("step", pitch.Tone.Letter.ToString()), new XElement("alter", pitch.Tone.Alteration),
            new XElement("octave", pitch.Octave)), Duration(note.Duration));
        if (note.IsTiedFrom) element.Add(new XElement("tie", new XAttribute("type", "stop")));
        if (note.IsTiedTo) element.Add(new XElement("tie", new XAttribute("type", "start")));
        element.Add(new XElement("voice", note.Voice));
        if (note.Marks.HasFlag(NoteMarks.Fermata)) element.Add(new XElement("notations", new XElement("fermata")));
        return element;
    }

    private XElement Duration(Fraction quarters) => new("duration", (quarters * _divisions).Floor());
}
