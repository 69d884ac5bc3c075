using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Sonorities;

/// <summary>
/// The ties of a score. A tie joins a note to the next one of the same spelled pitch in the same part, whatever its voice, that starts
/// where the note ends; one of the two signs, the tie's start or its stop, is enough. A tie that changes the spelling (G flat to F sharp)
/// says that the chord is heard anew, and joins nothing.
/// </summary>
internal sealed class Ties
{
    private readonly Note[] _notes;

    // The place of the note that each note is held from, or -1 where it is struck.
    private readonly int[] _from;

    private Ties(Note[] notes, int[] from) => (_notes, _from) = (notes, from);

    /// <summary>The ties between the harmonic notes among some notes.</summary>
    public static Ties Between(IEnumerable<Note> notes)
    {
        ArgumentNullException.ThrowIfNull(notes);
        Note[] inOrder = [.. notes.Where(n => n.IsHarmonic).OrderBy(n => n.Onset)];
        var from = new int[inOrder.Length];
        // What ended last, by part, pitch and end: several where two voices hold one pitch. A held note keeps the voice that struck it.
        var ended = new Dictionary<(int Part, Pitch Pitch, Fraction End), List<(int Index, string Voice)>>();
        foreach (var (i, note) in inOrder.Index())
        {
            from[i] = -1;
            var voice = note.Voice;
            if (ended.TryGetValue((note.Part, note.Pitch, note.Onset), out var held))
            {
                var place = held.FindIndex(h => (inOrder[h.Index].IsTiedTo || note.IsTiedFrom) && h.Voice == note.Voice);
                if (place < 0) place = held.FindIndex(h => inOrder[h.Index].IsTiedTo && note.IsTiedFrom);
                if (place >= 0)
                {
                    (from[i], voice) = held[place];
                    held.RemoveAt(place);
                }
            }

            var after = (note.Part, note.Pitch, note.End);
            if (!ended.TryGetValue(after, out var list)) ended[after] = list = new List<(int, string)>(1);
            list.Add((i, voice));
        }

        return new Ties(inOrder, from);
    }

    /// <summary>Each note that is held into another, with that one, in the order of the second.</summary>
    public IEnumerable<(Note From, Note To)> Pairs =>
        _from.Index().Where(f => f.Item >= 0).Select(f => (_notes[f.Item], _notes[f.Index]));

    /// <summary>The notes by onset, each with what is tied to it.</summary>
    public IReadOnlyList<SoundingNote> Joined()
    {
        var joined = new List<SoundingNote>(_notes.Length);
        var sounding = new int[_notes.Length];
        foreach (var (i, note) in _notes.Index())
        {
            if (_from[i] >= 0)
            {
                sounding[i] = sounding[_from[i]];
                joined[sounding[i]] = joined[sounding[i]] with { End = note.End };
                continue;
            }

            sounding[i] = joined.Count;
            joined.Add(new SoundingNote(note.Pitch, note.Onset, note.End, note.Part, note.Staff, note.Voice));
        }

        return joined;
    }
}
