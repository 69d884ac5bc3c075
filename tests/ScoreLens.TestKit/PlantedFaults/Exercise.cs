using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.PlantedFaults;

/// <summary>A four-part exercise on four staves with the chords that it is meant to have.</summary>
internal sealed record Exercise(Score Score, HarmonicReading Reading)
{
    /// <summary>
    /// Builds an exercise in 4/4. Chords are numerals, voices are notes (<c>F#4</c>, <c>r</c> for a rest), each with an optional
    /// length in quarter notes after a colon (one where there is none) and <c>!</c> for a fermata.
    /// </summary>
    public static Exercise Of(string key, string chords, params string[] voices)
    {
        var local = Key.Parse(key);
        var readings = new List<ChordReading>();
        var at = Fraction.Zero;
        foreach (var (text, length, _) in Tokens(chords))
        {
            readings.Add(new ChordReading(at, length, local, text switch
            {
                "-" => null,
                "Cad64" => Numeral.CadentialSixFour(local.Mode),
                _ => Numeral.Parse(text),
            }, 1, []));
            at += length;
        }

        var notes = new List<Note>();
        var rests = new List<Rest>();
        for (var part = 0; part < voices.Length; part++)
        {
            var onset = Fraction.Zero;
            foreach (var (text, length, fermata) in Tokens(voices[part]))
            {
                if (text == "r") rests.Add(new Rest(onset, length, part, 1, "1"));
                else notes.Add(new Note(ParsePitch(text), onset, length, part, 1, "1", fermata ? NoteMarks.Fermata : NoteMarks.None));
                onset += length;
            }
        }

        return new Exercise(MakeScore(notes, rests, voices.Length, at, local), new HarmonicReading(local, readings));
    }

    public static Score MakeScore(IEnumerable<Note> notes, IEnumerable<Rest> rests, int parts, Fraction end, Key key)
    {
        var measures = new List<Measure>();
        for (var start = Fraction.Zero; start < end; start += 4)
        {
            var number = (measures.Count + 1).ToString(CultureInfo.InvariantCulture);
            measures.Add(new Measure(measures.Count, number, start, 4, TimeSignature.Common, key.Signature));
        }

        return new Score(
            "",
            [.. Enumerable.Range(0, parts).Select(i => new Part(i, $"P{i + 1}", "", 1))],
            measures,
            [.. notes.OrderBy(n => n.Onset).ThenBy(n => n.Part)],
            [],
            [],
            [.. rests.OrderBy(r => r.Onset)]);
    }

    public static Pitch ParsePitch(string text) => new(Tone.Parse(text[..^1]), text[^1] - '0');

    private static IEnumerable<(string Text, Fraction Length, bool Fermata)> Tokens(string line)
    {
        foreach (var token in line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var fermata = token.EndsWith('!');
            var pieces = token.TrimEnd('!').Split(':');
            yield return (pieces[0], pieces.Length > 1 ? Fraction.Parse(pieces[1], CultureInfo.InvariantCulture) : 1, fermata);
        }
    }
}
