using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Devices;

/// <summary>Block chords written out pitch by pitch, a half note each, with the numerals that a reading gives them.</summary>
internal static class SpelledChords
{
    /// <summary>Tags chords given as <c>numeral: pitches from the bass up</c>.</summary>
    public static IReadOnlyList<TaggedChord> Tag(string key, params string[] chords)
    {
        var home = Key.Parse(key);
        var notes = new List<Note>();
        var reading = new List<ChordReading>();
        for (var i = 0; i < chords.Length; i++)
        {
            var parts = chords[i].Split(':');
            var numeral = parts[0] == "Cad64" ? Numeral.CadentialSixFour(home.Mode) : Numeral.Parse(parts[0]);
            reading.Add(new ChordReading(2 * i, 2, home, numeral, 1, []));
            var pitches = parts[1].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(PitchOf).ToArray();
            notes.AddRange(pitches.Select((p, v) => new Note(p, 2 * i, 2, 0, v == 0 ? 2 : 1, v == 0 ? "5" : "1", NoteMarks.None)));
        }

        Measure[] measures = [.. Enumerable.Range(0, (chords.Length + 1) / 2)
            .Select(m => new Measure(m, $"{m + 1}", 4 * m, 4, TimeSignature.Common, home.Signature))];
        var score = new Score("Study", [new Part(0, "P1", "Piano", 2)], measures, notes, [], [], []);
        return Find(home, reading, score);
    }

    /// <summary>Tags chords that the search may have named so, refined by what sounds.</summary>
    public static IReadOnlyList<TaggedChord> Find(Key home, IReadOnlyList<ChordReading> chords, Score score)
    {
        var sonorities = SonorityFinder.Find(score);
        var context = new RefinementContext(score, sonorities, ReadingSettings.Default);
        foreach (var step in (IRefinement[])[new LoneKeys(), new NearSpellings(), new SoundingNames(),
            new DiminishedContinuations()]) chords = step.Apply(chords, context);
        return DeviceFinder.Find(new HarmonicReading(home, chords), sonorities);
    }

    private static Pitch PitchOf(string text) => new(Tone.Parse(text[..^1]), text[^1] - '0');
}
