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
    /// What a voice does with a tone of one chord by the time that another one sounds: the note of the same voice that follows on it, a
    /// step away or the same. Of several voices one that moves in the wanted direction, then one that moves at all, then one that holds the
    /// tone. Null where each leaps, stops or rests, or the tone does not sound.
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
            var isHeld = note.End > to.Reading.Onset;
            if ((isHeld ? new ToneMotion(note.Pitch.Tone, 0, from.PartName(note.Part))
                : MotionOf(note, from, to, wanted)) is not { } motion) continue;
            if (best is null || Worth(motion, wanted) > Worth(best, wanted)) best = motion;
        }

        return best;
    }

    private static int Worth(ToneMotion motion, int wanted) => motion.IsHeld ? 0 : wanted == 0 || Math.Sign(motion.Semitones) == wanted ? 2
        : 1;

    // The last note with the tone in every voice that has it; the highest voice comes first.
    private static IEnumerable<SoundingNote> LastOfEachVoice(Tone tone, ChordInContext chord)
    {
        var last = new Dictionary<(int, int, string), SoundingNote>();
        foreach (var sonority in TonesInTime.Between(chord.Sonorities, chord.Reading.Onset, chord.Reading.End))
            foreach (var note in sonority.Notes)
                if (note.Pitch.Tone.IsEnharmonicWith(tone)) last[VoiceOf(note)] = note;
        return last.Values.OrderByDescending(n => n.Pitch.Midi);
    }

    // The note of the voice that follows. In a broken chord it is the next one of the same strand: what is struck between lies a third and
    // more from both (compound melody, common practice).
    private static ToneMotion? MotionOf(SoundingNote note, ChordInContext from, ChordInContext to, int wanted)
    {
        var between = new List<SoundingNote>();
        var silentSince = note.End;
        foreach (var sonority in TonesInTime.Between(from.Sonorities, note.End, to.Reading.End))
        {
            SoundingNote[] struck = [.. sonority.Notes.Where(n => n.Onset == sonority.Onset && n.Onset >= note.End
                && VoiceOf(n) == VoiceOf(note))];
            if (struck.Length == 0) continue;
            if (sonority.Onset - silentSince > LongestRest) return null;
            // A strand that is not taken up while the next chord lasts is lost to the ear.
            if (between.Count > 0 && sonority.Onset >= from.After?.Reading.End) return null;
            if (struck.Where(n => Distance(n, note) <= Step).OrderBy(n => Distance(n, note))
                .ThenByDescending(n => Math.Sign(n.Pitch.Midi - note.Pitch.Midi) == wanted)
                .FirstOrDefault() is { } next)
            {
                var isNext = next.Onset >= from.Reading.End && between.All(n => Distance(n, next) > Step) && IsStep(note, next);
                return isNext ? new ToneMotion(next.Pitch.Tone, next.Pitch.Midi - note.Pitch.Midi, from.PartName(note.Part)) : null;
            }

            between.AddRange(struck);
            silentSince = Fraction.Max(silentSince, struck.Max(n => n.End));
        }

        return null;
    }

    private static int Distance(SoundingNote a, SoundingNote b) => Math.Abs(a.Pitch.Midi - b.Pitch.Midi);

    // A written second, or the same letter: a diminished third sounds like a step and is none.
    private static bool IsStep(SoundingNote a, SoundingNote b) => (a.Pitch.Tone.Step - b.Pitch.Tone.Step + 7) % 7 is 0 or 1 or 6;

    private static (int Part, int Staff, string Voice) VoiceOf(SoundingNote note) => (note.Part, note.Staff, note.Voice);
}
