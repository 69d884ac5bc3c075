using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Benchmarks.Invariance;

/// <summary>
/// The same music in other clothes, whose key and numerals an expert would not change. Words are left out where the part that sang them
/// is no longer there.
/// </summary>
internal static class Outfits
{
    // A note of a broken chord is no shorter than this, in quarter notes.
    private static readonly Fraction ShortestOfFigure = new(1, 8);

    /// <summary>A major third up, a minor third where the signature would have more than seven sharps; and by how many fifths.</summary>
    public static (Score Score, int Fifths) ThirdUp(Score score)
    {
        var (fifths, semitones) = score.Measures.Any(m => m.Signature > 3) ? (-3, 3) : (4, 4);
        return (score with
        {
            Measures = [.. score.Measures.Select(m => m with { Signature = m.Signature + fifths, PickupOffset = m.PickupOffset })],
            Notes =
            [
                .. score.Notes.Select(n => n with
                {
                    Pitch = Pitch.Between(n.Pitch.Tone + fifths, n.Pitch.Midi + semitones, n.Pitch.Midi + semitones).First(),
                }),
            ],
        }, fifths);
    }

    /// <summary>Everything in two staves of one piano, divided at middle C.</summary>
    public static Score Piano(Score score)
    {
        var voices = new Dictionary<(int, int, string), string>();
        string Voice(Note note)
        {
            var own = (note.Part, note.Staff, note.Voice);
            if (!voices.TryGetValue(own, out var name)) voices[own] = name = $"{voices.Count + 1}";
            return name;
        }

        return Bare(score) with
        {
            Parts = [new Part(0, "P1", "Piano", 2)],
            Notes = [.. score.Notes.Select(n => n with { Part = 0, Staff = n.Pitch.Midi >= 60 ? 1 : 2, Voice = Voice(n) })],
        };
    }

    /// <summary>
    /// What sounds in every vertical as one broken chord, from its lowest note up and over again, in sixteenths or, where the vertical is
    /// too
    /// short for that, in thirty-seconds; in two staves of one piano. Fermatas stay.
    /// </summary>
    public static Score Arpeggios(Score score)
    {
        var notes = new List<Note>();
        var held = score.Notes.Where(n => n.Marks.HasFlag(NoteMarks.Fermata)).Select(n => (n.Part, n.Pitch, n.End)).ToHashSet();
        foreach (var vertical in SonorityFinder.Find(score))
        {
            Pitch[] pitches = [.. vertical.Notes.Select(n => n.Pitch).Distinct()];
            if (pitches.Length == 0) continue;
            var marks = vertical.Notes.Any(n => held.Contains((n.Part, n.Pitch, n.End))) ? NoteMarks.Fermata : NoteMarks.None;
            var step = new Fraction(1, 4);
            while (step > ShortestOfFigure && step * pitches.Length > vertical.Duration) step /= 2;
            // A chord that is too short to be broken is struck.
            if (step * pitches.Length > vertical.Duration)
            {
                notes.AddRange(pitches.Select(p => Note(p, vertical.Onset, vertical.Duration, marks)));
                continue;
            }

            for (var (at, i) = (vertical.Onset, 0); at < vertical.End; at += step, i++)
                notes.Add(Note(pitches[i % pitches.Length], at, Fraction.Min(step, vertical.End - at), marks));
        }

        return Bare(score) with { Parts = [new Part(0, "P1", "Piano", 2)], Notes = notes };

        static Note Note(Pitch pitch, Fraction onset, Fraction duration, NoteMarks marks) =>
            new(pitch, onset, duration, 0, pitch.Midi >= 60 ? 1 : 2, "1", marks);
    }

    /// <summary>A tone held under everything from the first measure to the last.</summary>
    public static Score OverDrone(Score score, Tone tone)
    {
        var lowest = score.Notes.Where(n => n.IsHarmonic).Min(n => n.Pitch.Midi);
        var pitch = Pitch.Between(tone, lowest - 12, lowest - 1).First();
        var part = score.Parts.Count;
        var measures = score.Measures.Where(m => m.Length.Sign > 0).ToArray();
        var drone = measures.Select((m, i) => new Note(pitch, m.Start, m.Length, part, 1, "1",
            (i > 0 ? NoteMarks.TieStop : NoteMarks.None) | (i + 1 < measures.Length ? NoteMarks.TieStart : NoteMarks.None)));
        return score with
        {
            Parts = [.. score.Parts, new Part(part, $"P{part + 1}", "Drone", 1)],
            Notes = [.. score.Notes.Concat(drone).OrderBy(n => n.Onset)],
        };
    }

    /// <summary>The score in other note values.</summary>
    public static Score Paced(Score score, Fraction factor) => NoteValues.Times(score, factor);

    private static Score Bare(Score score) => score with { Texts = [], ChordSymbols = [], Rests = [] };
}
