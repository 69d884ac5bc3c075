using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Follows tones from one chord into another, voice by voice: a movement counts only where one voice makes it.</summary>
internal static class VoiceLeading
{
    private const int Step = 2;

    // A voice that rests longer than this, in quarter notes, begins anew.
    private static readonly Fraction LongestRest = 1;

    /// <summary>
    /// What a voice does with a tone of one chord by the time that another one sounds: the note of the same voice that follows on it, a step away or the
    /// same. Of several voices one that moves in the wanted direction, then one that moves at all, then one that holds the tone. Null where each leaps,
    /// stops or rests, or the tone does not sound.
    /// </summary>
    /// <param name="tone">The tone, however it is spelled.</param>
    /// <param name="from">The chord with the tone.</param>
    /// <param name="to">The chord that it goes to, or one further on.</param>
    /// <param name="wanted">The direction that the tone tends to: 1 up, -1 down, 0 either.</param>
    public static ToneMotion? Of(Tone tone, ChordInContext from, ChordInContext to, int wanted = 0)
    {
        ToneMotion? best = null;
        foreach (var note in LastOfEachVoice(tone, from))
        {
            if (MotionOf(note, from, to, wanted) is not { } motion) continue;
            if (best is null || Worth(motion, wanted) > Worth(best, wanted)) best = motion;
        }

        return best;
    }

    private static int Worth(ToneMotion motion, int wanted) => motion.IsHeld ? 0 : wanted == 0 || Math.Sign(motion.Semitones) == wanted ? 2 : 1;

    // The last note with the tone in every voice that has it; the highest voice comes first.
    private static IEnumerable<SoundingNote> LastOfEachVoice(Tone tone, ChordInContext chord)
    {
        var last = new Dictionary<(int, int, string), SoundingNote>();
        foreach (var sonority in TonesInTime.Between(chord.Sonorities, chord.Reading.Onset, chord.Reading.End))
            foreach (var note in sonority.Notes)
                if (note.Pitch.Tone.IsEnharmonicWith(tone)) last[VoiceOf(note)] = note;
        return last.Values.OrderByDescending(n => n.Pitch.Midi);
    }

    private static ToneMotion? MotionOf(SoundingNote note, ChordInContext from, ChordInContext to, int wanted)
    {
        SoundingNote? next = null;
        foreach (var sonority in TonesInTime.Between(from.Sonorities, from.Reading.End, to.Reading.End))
        {
            foreach (var other in sonority.Notes)
            {
                if (VoiceOf(other) != VoiceOf(note)) continue;
                // Still sounding, or struck again at once, as the other chord enters.
                if (other == note && sonority.Onset >= to.Reading.Onset) return new ToneMotion(note.Pitch.Tone, 0, from.PartName(note.Part));
                if (other.Onset < note.End || other.Onset < from.Reading.End || other == note) continue;
                if (next is null || other.Onset < next.Onset || (other.Onset == next.Onset && IsNearer(other, next, note, wanted))) next = other;
            }

            if (next is not null && next.Onset < sonority.Onset) break;
        }

        if (next is null || next.Onset - note.End > LongestRest) return null;
        var semitones = next.Pitch.Midi - note.Pitch.Midi;
        return Math.Abs(semitones) <= Step ? new ToneMotion(next.Pitch.Tone, semitones, from.PartName(note.Part)) : null;
    }

    private static bool IsNearer(SoundingNote a, SoundingNote b, SoundingNote from, int wanted)
    {
        var (near, far) = (Math.Abs(a.Pitch.Midi - from.Pitch.Midi), Math.Abs(b.Pitch.Midi - from.Pitch.Midi));
        return near < far || (near == far && Math.Sign(a.Pitch.Midi - from.Pitch.Midi) == wanted && Math.Sign(b.Pitch.Midi - from.Pitch.Midi) != wanted);
    }

    private static (int Part, int Staff, string Voice) VoiceOf(SoundingNote note) => (note.Part, note.Staff, note.Voice);
}
