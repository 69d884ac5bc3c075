using System.Globalization;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Output.Midi;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Training;

namespace ScoreLens.Benchmarks.Midi;

/// <summary>
/// What a MIDI file lacks against the score that it was made from, and what each of these things costs the reading: the score without one
/// of them, and the MIDI file with one of them given back.
/// </summary>
internal static class MidiLosses
{
    private static readonly (string Name, Func<Versions, Score> Of)[] Variants =
    [
        ("the score", v => v.Written),
        ("score, no fermatas, slurs, breaths", v => OnNotes(v.Written, n => n with { Marks = n.Marks & ~Phrasing })),
        ("score, no words", v => v.Written with { Texts = [] }),
        ("score, no grace notes", v => v.Written with { Notes = [.. v.Written.Notes.Where(n => n.IsHarmonic)] }),
        ("score, no bar line but plain ones", v => OnMeasures(v.Written, m => m with { EndsWithBarline = false })),
        ("score, measures as MIDI has them", v => v.Written with { Measures = v.Midi.Measures }),
        ("score, voices of a staff as one", v => OnNotes(v.Written, n => n with { Voice = "1" })),
        ("score, staves of a part as one", v => OnNotes(v.Written, n => n with { Voice = "1", Staff = 1 })),
        ("score, spelling guessed", v => Spelled(v.Written, v.Midi)),
        ("MIDI", v => v.Midi),
        ("MIDI, spelling given", v => Spelled(v.Midi, v.Written)),
        ("MIDI, measures given", v => v.Midi with { Measures = v.Written.Measures }),
        ("MIDI, staves and voices given", v => Voiced(v.Midi, v.Written)),
        ("MIDI, marks given", v => Marked(v.Midi, v.Written)),
        ("MIDI, words given", v => v.Midi with { Texts = v.Written.Texts }),
        ("MIDI, spelling and measures given", v => Spelled(v.Midi, v.Written) with { Measures = v.Written.Measures }),
        ("MIDI, all but marks given", v => Voiced(Spelled(v.Midi, v.Written), v.Written) with
        {
            Measures = v.Written.Measures,
            Texts = v.Written.Texts,
        }),
        ("played", v => v.Played),
        ("played, spelling given", v => Spelled(v.Played, v.Midi)),
        ("played, measures given", v => v.Played with { Measures = v.Written.Measures }),
    ];

    private const NoteMarks Phrasing = NoteMarks.Fermata | NoteMarks.SlurStart | NoteMarks.SlurStop | NoteMarks.BreathAfter;

    /// <summary>Prints a table a repertoire: every version of its works, how often key and numeral are the expert's.</summary>
    public static void Report(IReadOnlyList<CorpusWork> works)
    {
        foreach (var repertoire in works.GroupBy(w => w.Group()))
        {
            var sums = Variants.Select(_ => new Agreement()).ToArray();
            foreach (var read in repertoire.AsParallel().AsOrdered().Select(Read))
                for (var i = 0; i < sums.Length; i++) sums[i].Add(read[i]);
            Console.WriteLine($"{repertoire.Key}, {sums[0].Works} works");
            foreach (var (variant, sum) in Variants.Zip(sums))
            {
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"  {variant.Name,-38} key {sum["key"]:.000}  root {sum["root"]:.000}  inversion {sum["inversion"]:.000}  numeral "
                        + $"{sum["numeral"]:.000}"));
            }
        }
    }

    private static Agreement[] Read(CorpusWork work)
    {
        var reference = ReferenceWork.Load(work);
        var versions = new Versions(
            reference.Score,
            MidiReader.Read(MidiWriter.Write(reference.Score)),
            MidiReader.Read(MidiWriter.Write(UnevenTiming.Of(reference.Score))));
        return
        [
            .. Variants.Select(variant =>
            {
                var agreement = new Agreement();
                agreement.Add(CueAnalysis.Of(variant.Of(versions)), reference.Reading);
                return agreement;
            }),
        ];
    }

    private static Score OnNotes(Score score, Func<Note, Note> change) => score with { Notes = [.. score.Notes.Select(change)] };

    private static Score OnMeasures(Score score, Func<Measure, Measure> change) =>
        score with { Measures = [.. score.Measures.Select(change)] };

    // The same score, each note as the other spells what begins with it, else as it was.
    private static Score Spelled(Score score, Score other)
    {
        var known = other.Notes.ToLookup(n => (n.Onset, n.Pitch.Midi));
        return OnNotes(score, n => known[(n.Onset, n.Pitch.Midi)].FirstOrDefault() is { } found ? n with { Pitch = found.Pitch } : n);
    }

    // Parts keep their numbers: a part without notes has no track, and the others move up.
    private static Score Voiced(Score midi, Score written)
    {
        var known = written.Notes.ToLookup(n => (n.Onset, n.Pitch.Midi, n.Part));
        var parts = PartsOf(midi);
        return OnNotes(midi, n => known[(n.Onset, n.Pitch.Midi, parts[n.Part])].FirstOrDefault() is { } found
            ? n with { Staff = found.Staff, Voice = found.Voice } : n) with
        {
            Parts = [.. midi.Parts.Select((p, i) => p with { Staves = written.Parts[parts[i]].Staves })],
        };
    }

    private static Score Marked(Score midi, Score written)
    {
        var known = written.Notes.ToLookup(n => (n.Onset, n.Pitch.Midi, n.Part));
        var parts = PartsOf(midi);
        return OnNotes(midi, n => known[(n.Onset, n.Pitch.Midi, parts[n.Part])].FirstOrDefault() is { } found
            ? n with { Marks = n.Marks | (found.Marks & Phrasing) } : n);
    }

    /// <summary>The number that each part of a MIDI file had in the score.</summary>
    public static int[] PartsOf(Score midi) =>
    [
        .. midi.Parts.Select(p =>
            int.Parse(p.Id[1..p.Id.IndexOf('C', StringComparison.Ordinal)], CultureInfo.InvariantCulture) - 2),
    ];

    private sealed record Versions(Score Written, Score Midi, Score Played);
}
