using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Gathers quick broken chords into block chords before a score is read: "a broken chord is the chord that its notes make together" (common
/// practice). Taken for one are three notes and more that follow each other in sixteenths or quicker equal values from the lowest up,
/// inside a beat, by leaps but for one step, while nothing else sounds; and two that alternate by leap, twice and more (a measured
/// tremolo). What comes round again belongs to it until it begins anew on a beat. A tone that the next broken chord has too is held where
/// that one begins off the beat. A melody over the figure leaves it as it is written.
/// </summary>
internal static class BrokenChords
{
    private static readonly Fraction Longest = new(1, 4);

    private const int LeastNotes = 3;
    private const int LeastOfTremolo = 4;
    private const int Leap = 3;

    /// <summary>The score with its broken chords as block chords.</summary>
    public static Score Gathered(Score score)
    {
        var gathered = new Dictionary<Note, Note?>(ReferenceEqualityComparer.Instance);
        var notes = score.Notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset).ToArray();
        var before = new List<Note>();
        var sounds = Fraction.Zero;
        for (int start = 0, end; start < notes.Length; start = end)
        {
            var tones = start + 1;
            while (tones < notes.Length && Follows(notes, start, tones) && IsInBeat(score, notes[start], notes[tones])) tones++;
            end = Rounds(score, notes, start, tones);
            var isFigure = IsFigure(notes, start, tones, end);
            if (!isFigure) end = tones;
            var isAlone = sounds <= notes[start].Onset && (end == notes.Length || notes[end].Onset >= notes[end - 1].End);
            for (var i = start; i < end; i++) sounds = Fraction.Max(sounds, notes[i].End);
            if (!isAlone || !isFigure) continue;
            var (onset, last) = (notes[start].Onset, notes[end - 1].End);
            // Each tone once, for as long as the figure lasts; and on from the figure before, where this one begins off the beat.
            var held = before.Count > 0 && gathered[before[0]]!.End == onset && !IsOnBeat(score, notes[start])
                ? before.ToDictionary(n => n.Pitch) : [];
            before.Clear();
            for (var i = start; i < end; i++)
            {
                gathered[notes[i]] = null;
                if (i >= tones) continue;
                var marks = notes[i].Marks;
                if (held.TryGetValue(notes[i].Pitch, out var from) && from.Part == notes[i].Part)
                {
                    marks |= NoteMarks.TieStop;
                    gathered[from] = gathered[from]! with { Marks = gathered[from]!.Marks | NoteMarks.TieStart };
                }

                gathered[notes[i]] = notes[i] with { Onset = onset, Duration = last - onset, Marks = marks };
                before.Add(notes[i]);
            }
        }

        return gathered.Count == 0 ? score
            : score with { Notes = [.. score.Notes.Select(n => gathered.GetValueOrDefault(n, n)).OfType<Note>().OrderBy(n => n.Onset)] };
    }

    private static bool IsFigure(Note[] notes, int start, int tones, int end) => (tones - start) switch
    {
        < 2 => false,
        2 => end - start >= LeastOfTremolo && Steps(notes, start, tones) == 0,
        _ => Steps(notes, start, tones) < 2,
    };

    // Where the figure ends whose tones begin at one place and end before another: after all that comes round again.
    private static int Rounds(Score score, Note[] notes, int start, int tones)
    {
        var period = tones - start;
        if (period < 2) return tones;
        for (var end = tones; ; end += period)
        {
            var again = 0;
            while (again < period && end + again < notes.Length && Continues(notes, start, end + again)
                && notes[end + again].Pitch == notes[start + again].Pitch) again++;
            if (again == 0 || IsOnBeat(score, notes[end])) return end;
            if (again == period) continue;
            // Part of a round, unless it is the beginning of another figure.
            var other = end + 1;
            while (other < notes.Length && Follows(notes, end, other)) other++;
            return other - end >= LeastNotes && other - end > again ? end : end + again;
        }
    }

    private static bool Follows(Note[] notes, int start, int at) => Continues(notes, start, at)
        && notes[at].Duration == notes[start].Duration && notes[at - 1].Pitch < notes[at].Pitch;

    // In the figure's values; the last note may be cut short.
    private static bool Continues(Note[] notes, int start, int at)
    {
        var (before, note) = (notes[at - 1], notes[at]);
        return note.Duration <= notes[start].Duration && notes[start].Duration <= Longest && before.End == note.Onset && !note.IsTiedFrom
            && !before.IsTiedTo;
    }

    private static bool IsInBeat(Score score, Note first, Note note) => BeatOf(score, first) is var (measure, beat)
        && BeatOf(score, note) is var (other, place) && measure == other && beat.Floor() == place.Floor();

    private static bool IsOnBeat(Score score, Note note) => BeatOf(score, note).Beat.Denominator == 1;

    private static (int Measure, Fraction Beat) BeatOf(Score score, Note note)
    {
        var measure = score.MeasureAt(note.Onset);
        return (measure.Index, (note.Onset - measure.Start + measure.PickupOffset) / measure.Time.PulseLength);
    }

    private static int Steps(Note[] notes, int start, int end)
    {
        var steps = 0;
        for (var i = start + 1; i < end; i++)
            if (notes[i].Pitch.Midi - notes[i - 1].Pitch.Midi < Leap) steps++;
        return steps;
    }
}
