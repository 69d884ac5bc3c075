using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>How a tone goes on in its voice.</summary>
/// <param name="To">The tone that it goes to, as the score spells it.</param>
/// <param name="Semitones">How far, upwards positive; at most 2 either way.</param>
internal readonly record struct Motion(Tone To, int Semitones)
{
    public bool Rises => Semitones > 0;

    public bool Falls => Semitones < 0;

    public bool IsHeld => Semitones == 0;

    /// <summary>As a sentence says it: <c>rises to G</c>, <c>falls to G</c>, <c>is held</c>.</summary>
    public override string ToString() => IsHeld ? "is held" : $"{(Rises ? "rises" : "falls")} to {To}";
}

/// <summary>Follows tones from one chord into the next.</summary>
internal static class VoiceLeading
{
    private const int Step = 2;

    /// <summary>
    /// Where a tone of one chord goes as another enters: the next note of its own voice where that is a step or the same;
    /// where the voices cannot be told apart, the note at the same place counted from the bass, then the nearest note
    /// within a step. Null where it leaps, stops or does not sound.
    /// </summary>
    public static Motion? Of(Tone tone, ChordInContext from, ChordInContext to)
    {
        if (LastIn(from, tone) is not { } note) return null;
        var start = TonesInTime.First(from.Sonorities, to.Reading.Onset);
        if (start >= from.Sonorities.Count) return null;
        var entry = from.Sonorities[start];
        if (entry.Notes.Any(n => n.Pitch.Midi == note.Pitch.Midi && n.Part == note.Part)) return new Motion(note.Pitch.Tone, 0);
        var voice = entry.Notes.Where(n => IsSameVoice(n, note)).ToArray();
        if (note.End == entry.Onset && voice is [var only] && Near(note, only) is { } own) return own;
        if (start > 0 && from.Sonorities[start - 1] is var last && last.Notes.Count == entry.Notes.Count && last.Notes.IndexOf(note) is >= 0 and var place
            && Near(note, entry.Notes[place]) is { } matched) return matched;
        return NearestIn(to, note);
    }

    private static SoundingNote? LastIn(ChordInContext chord, Tone tone)
    {
        for (var i = TonesInTime.First(chord.Sonorities, chord.Reading.End) - 1; i >= 0; i--)
        {
            var sonority = chord.Sonorities[i];
            if (sonority.Onset >= chord.Reading.End) continue;
            if (sonority.End <= chord.Reading.Onset) return null;
            // The highest of doubled notes is the one that is heard.
            for (var n = sonority.Notes.Count - 1; n >= 0; n--)
                if (sonority.Notes[n].Pitch.Tone.IsEnharmonicWith(tone)) return sonority.Notes[n];
        }

        return null;
    }

    private static Motion? NearestIn(ChordInContext chord, SoundingNote note)
    {
        SoundingNote? nearest = null;
        for (var i = TonesInTime.First(chord.Sonorities, chord.Reading.Onset); i < chord.Sonorities.Count; i++)
        {
            if (chord.Sonorities[i].Onset >= chord.Reading.End) break;
            foreach (var other in chord.Sonorities[i].Notes)
            {
                if (!chord.Has(other.Pitch.Tone)) continue;
                if (nearest is null || Distance(note, other) < Distance(note, nearest)) nearest = other;
            }
        }

        return nearest is null ? null : Near(note, nearest);
    }

    private static int Distance(SoundingNote a, SoundingNote b) => Math.Abs(a.Pitch.Midi - b.Pitch.Midi);

    private static bool IsSameVoice(SoundingNote a, SoundingNote b) => a.Part == b.Part && a.Staff == b.Staff && a.Voice == b.Voice;

    private static Motion? Near(SoundingNote from, SoundingNote to) =>
        Distance(from, to) <= Step ? new Motion(to.Pitch.Tone, to.Pitch.Midi - from.Pitch.Midi) : null;

    private static int IndexOf(this IReadOnlyList<SoundingNote> notes, SoundingNote note)
    {
        for (var i = 0; i < notes.Count; i++)
            if (ReferenceEquals(notes[i], note) || notes[i] == note) return i;
        return -1;
    }
}
