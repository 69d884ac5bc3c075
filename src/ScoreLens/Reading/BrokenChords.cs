using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Gathers quick broken chords into block chords before a score is read: "a broken chord is the chord that its notes make together" (common
/// practice). Taken for one are three notes and more that follow each other in sixteenths or quicker equal values from the lowest up,
/// inside a beat, by leaps but for one step, while nothing else sounds. A melody over the figure leaves it as it is written.
/// </summary>
internal static class BrokenChords
{
    private static readonly Fraction Longest = new(1, 4);

    private const int LeastNotes = 3;
    private const int Leap = 3;

    /// <summary>The score with its broken chords as block chords.</summary>
    public static Score Gathered(Score score)
    {
        var gathered = new Dictionary<Note, Note>(ReferenceEqualityComparer.Instance);
        var notes = score.Notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset).ToArray();
        var sounds = Fraction.Zero;
        for (int start = 0, end; start < notes.Length; start = end)
        {
            end = start + 1;
            while (end < notes.Length && Follows(notes, start, end, score)) end++;
            var isAlone = sounds <= notes[start].Onset && (end == notes.Length || notes[end].Onset >= notes[end - 1].End);
            for (var i = start; i < end; i++) sounds = Fraction.Max(sounds, notes[i].End);
            if (end - start < LeastNotes || !isAlone || Steps(notes, start, end) > 1) continue;
            var (onset, last) = (notes[start].Onset, notes[end - 1].End);
            for (var i = start; i < end; i++) gathered[notes[i]] = notes[i] with { Onset = onset, Duration = last - onset };
        }

        return gathered.Count == 0 ? score
            : score with { Notes = [.. score.Notes.Select(n => gathered.GetValueOrDefault(n, n)).OrderBy(n => n.Onset)] };
    }

    private static bool Follows(Note[] notes, int start, int at, Score score)
    {
        var (before, note) = (notes[at - 1], notes[at]);
        return note.Duration == notes[start].Duration && note.Duration <= Longest && before.End == note.Onset && before.Pitch < note.Pitch
            && !note.IsTiedFrom && !before.IsTiedTo && BeatOf(score, note) == BeatOf(score, notes[start]);
    }

    private static (int, long) BeatOf(Score score, Note note)
    {
        var measure = score.MeasureAt(note.Onset);
        return (measure.Index, ((note.Onset - measure.Start + measure.PickupOffset) / measure.Time.PulseLength).Floor());
    }

    private static int Steps(Note[] notes, int start, int end)
    {
        var steps = 0;
        for (var i = start + 1; i < end; i++)
            if (notes[i].Pitch.Midi - notes[i - 1].Pitch.Midi < Leap) steps++;
        return steps;
    }
}
