using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reharmonising;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Reharmonising;

/// <summary>
/// Chords under a melody, a half note each, with the numerals that a reading gives them: in the accompaniment four voices from the bass up,
/// in the part above it one note a chord or a rest.
/// </summary>
internal static class SpelledProgression
{
    /// <summary>The alternatives for a chord of a progression.</summary>
    /// <param name="key">The key.</param>
    /// <param name="index">Which chord.</param>
    /// <param name="chords">Each as <c>numeral melody</c>, the melody a pitch or a dash for a rest.</param>
    public static IReadOnlyList<Alternative> At(string key, int index, params string[] chords) =>
        new Reharmoniser(Analyse(key, chords), Band.Default).At(index, all: true);

    /// <summary>The score with the reading that its chords spell.</summary>
    public static CueAnalysis Analyse(string key, params string[] chords)
    {
        var home = Key.Parse(key);
        var notes = new List<Note>();
        var reading = new List<ChordReading>();
        foreach (var (i, chord) in chords.Index())
        {
            var (name, melody) = chord.Split(' ') is [var n, var m] ? (n, m) : throw new ArgumentException(chord);
            var numeral = name == "Cad64" ? Numeral.CadentialSixFour(home.Mode) : Numeral.Parse(name);
            reading.Add(new ChordReading(2 * i, 2, home, numeral, 1, []));
            if (melody != "-") notes.Add(new Note(new Pitch(Tone.Parse(melody[..^1]), melody[^1] - '0'), 2 * i, 2, 0, 1, "1",
                NoteMarks.None));
            var pitches = new List<Pitch> { Pitches(numeral.Bass(home), 36).First() };
            foreach (var tone in numeral.Tones(home)) pitches.Add(Pitches(tone, 53).First());
            notes.AddRange(pitches.Order().Select((p, v) => new Note(p, 2 * i, 2, 1, v == 0 ? 2 : 1, $"{v + 1}", NoteMarks.None)));
        }

        Measure[] measures = [.. Enumerable.Range(0, (chords.Length + 1) / 2)
            .Select(m => new Measure(m, $"{m + 1}", 4 * m, 4, TimeSignature.Common, home.Signature))];
        var score = new Score("Study", [new Part(0, "P1", "Flute", 1), new Part(1, "P2", "Piano", 2)], measures,
            [.. notes.OrderBy(n => n.Onset)], [], [], []);
        return CueAnalysis.Of(score, SonorityFinder.Find(score), new HarmonicReading(home, reading));
    }

    private static IEnumerable<Pitch> Pitches(Tone tone, int from) =>
        Enumerable.Range(0, 9).Select(o => new Pitch(tone, o)).Where(p => p.Midi >= from);
}
