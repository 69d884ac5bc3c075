using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Grouping;

/// <summary>One event of a line.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="End">When it stops sounding.</param>
/// <param name="Pitch">Its pitch.</param>
/// <param name="Marks">Slurs, fermatas and breath marks of the written notes that it is made of.</param>
internal readonly record struct LineEvent(Fraction Onset, Fraction End, Pitch Pitch, NoteMarks Marks);

/// <summary>
/// The upper line of one staff: at each onset its highest note, as far as nothing higher in the staff is still held. What moves
/// below a held melody note is accompaniment and no event of the line.
/// </summary>
internal sealed class MelodicLine
{
    private readonly Fraction[] _onsets;

    // The heights of the events before each, added up.
    private readonly int[] _heights;

    private MelodicLine(int part, int staff, IReadOnlyList<LineEvent> events, bool isSung)
    {
        (Part, Staff, Events, IsSung) = (part, staff, events, isSung);
        _onsets = [.. events.Select(e => e.Onset)];
        _heights = new int[events.Count + 1];
        for (var i = 0; i < events.Count; i++) _heights[i + 1] = _heights[i] + events[i].Pitch.Midi;
    }

    public int Part { get; }

    public int Staff { get; }

    public IReadOnlyList<LineEvent> Events { get; }

    /// <summary>Whether words stand under the line.</summary>
    public bool IsSung { get; }

    /// <summary>The lines of a score, from the top of the score down.</summary>
    public static IReadOnlyList<MelodicLine> Of(Score score, IReadOnlySet<(int Part, int Staff)> sung)
    {
        var marks = new Dictionary<(int Part, int Staff, Fraction Onset), NoteMarks>();
        foreach (var note in score.Notes.Where(n => n.IsHarmonic))
        {
            marks.TryGetValue((note.Part, note.Staff, note.Onset), out var before);
            marks[(note.Part, note.Staff, note.Onset)] = before | note.Marks;
        }

        // A fermata or breath mark on the last of several tied notes belongs to the whole note.
        var tied = score.Notes.Where(n => n.IsHarmonic && n.IsTiedFrom).ToLookup(n => (n.Part, n.Staff, n.Pitch));
        return
        [
            .. SonorityFinder.JoinTies(score.Notes).GroupBy(n => (n.Part, n.Staff)).OrderBy(g => g.Key)
                .Select(g => new MelodicLine(g.Key.Part, g.Key.Staff, Skyline(g, marks, tied), sung.Contains(g.Key))),
        ];
    }

    /// <summary>Index of the event that begins at a time, or the complement of the index of the first one after it.</summary>
    public int IndexAt(Fraction onset) => Array.BinarySearch(_onsets, onset);

    /// <summary>Index of the first event at or after a time; the number of events where there is none.</summary>
    public int FirstFrom(Fraction onset) => IndexAt(onset) is var i && i >= 0 ? i : ~i;

    /// <summary>The sum of the MIDI numbers of some events, from one on and before another.</summary>
    public int Height(int first, int end) => _heights[end] - _heights[first];

    private static List<LineEvent> Skyline(
        IEnumerable<SoundingNote> notes,
        Dictionary<(int Part, int Staff, Fraction Onset), NoteMarks> marks,
        ILookup<(int Part, int Staff, Pitch Pitch), Note> tied)
    {
        var events = new List<LineEvent>();
        foreach (var together in notes.GroupBy(n => n.Onset).OrderBy(g => g.Key))
        {
            var top = together.MaxBy(n => n.Pitch)!;
            if (events.Count > 0 && events[^1].End > top.Onset)
            {
                if (events[^1].Pitch > top.Pitch) continue;
                events[^1] = events[^1] with { End = top.Onset };
            }

            var here = marks.GetValueOrDefault((top.Part, top.Staff, top.Onset));
            foreach (var later in tied[(top.Part, top.Staff, top.Pitch)])
                if (later.Onset > top.Onset && later.Onset < top.End) here |= later.Marks;
            events.Add(new LineEvent(top.Onset, top.End, top.Pitch, here));
        }

        return events;
    }
}
