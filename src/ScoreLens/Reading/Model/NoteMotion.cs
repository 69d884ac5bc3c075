using ScoreLens.Sonorities;

namespace ScoreLens.Reading.Model;

/// <summary>How a note is reached and left in its voice, and how strong the place is where it is struck.</summary>
/// <param name="ReachedByStep">The note before it in its voice lies at most a whole tone away.</param>
/// <param name="LeftByStep">The note after it in its voice lies at most a whole tone away.</param>
/// <param name="Weight">Metrical weight of its onset, 0..1.</param>
internal readonly record struct NoteMotion(bool ReachedByStep, bool LeftByStep, double Weight)
{
    /// <summary>The motions of all notes that sound in the verticals.</summary>
    public static Dictionary<SoundingNote, NoteMotion> Of(IReadOnlyList<Sonority> sonorities)
    {
        var weights = new Dictionary<SoundingNote, double>(ReferenceEqualityComparer.Instance);
        foreach (var sonority in sonorities)
            foreach (var note in sonority.Notes)
                weights.TryAdd(note, sonority.IsStruck(note) ? sonority.MetricalWeight : 0);

        var motions = new Dictionary<SoundingNote, NoteMotion>(ReferenceEqualityComparer.Instance);
        foreach (var voice in weights.Keys.GroupBy(n => (n.Part, n.Staff, n.Voice)))
        {
            var notes = voice.OrderBy(n => n.Onset).ThenBy(n => n.Pitch).ToArray();
            foreach (var (index, note) in notes.Index())
            {
                var before = Neighbour(notes, index, -1);
                var after = Neighbour(notes, index, 1);
                motions[note] = new NoteMotion(IsStep(before, note), IsStep(note, after), weights[note]);
            }
        }

        return motions;
    }

    // The nearest in pitch of the notes that end where this one starts, or start where it ends: chords in one voice move in parallel.
    private static SoundingNote? Neighbour(SoundingNote[] notes, int index, int direction)
    {
        var note = notes[index];
        SoundingNote? best = null;
        for (var i = index + direction; i >= 0 && i < notes.Length && Math.Abs(i - index) < 16; i += direction)
        {
            var other = notes[i];
            if (direction > 0 ? other.Onset != note.End : other.End != note.Onset)
            {
                if (direction > 0 && other.Onset > note.End) break;
                continue;
            }

            if (best is null || Distance(other, note) < Distance(best, note)) best = other;
        }

        return best;
    }

    private static int Distance(SoundingNote a, SoundingNote b) => Math.Abs(a.Pitch.Midi - b.Pitch.Midi);

    private static bool IsStep(SoundingNote? a, SoundingNote? b) => a is not null && b is not null && Distance(a, b) is 1 or 2;
}
