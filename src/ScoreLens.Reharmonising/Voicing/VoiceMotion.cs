using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>How a voice goes into a span and out of it.</summary>
/// <param name="Before">The note that it comes from; null where a rest stands between or it has no note where the span begins.</param>
/// <param name="First">Its first note in the span.</param>
/// <param name="Last">Its last note in the span.</param>
/// <param name="After">The note that it goes to; null where a rest stands between or it has no note where the span ends.</param>
internal readonly record struct VoiceMotion(Pitch? Before, Pitch First, Pitch Last, Pitch? After)
{
    /// <summary>A voice that has one pitch in the span.</summary>
    public static VoiceMotion Through(Pitch? before, Pitch pitch, Pitch? after) => new(before, pitch, pitch, after);

    /// <summary>Whether it comes from a note or goes to one.</summary>
    public bool IsConnected => Before is not null || After is not null;

    /// <summary>What going there and on costs: steps little, leaps much.</summary>
    public double Cost => Of(Before, First) + Of(After, Last);

    /// <summary>
    /// Parallel fifths, octaves and unisons with another voice, into the span and out of it (Fux, Gradus ad Parnassum, first species;
    /// Kostka and Payne, Tonal Harmony, ch. 5; from memory): 0 to 2.
    /// </summary>
    public int ParallelsWith(VoiceMotion other) => (IsParallelInto(other) ? 1 : 0) + (IsParallelOutOf(other) ? 1 : 0);

    /// <summary>The same, but for those that two other ways of these voices have at the same place.</summary>
    public int NewParallelsWith(VoiceMotion other, VoiceMotion old, VoiceMotion oldOther) =>
        (IsParallelInto(other) && !old.IsParallelInto(oldOther) ? 1 : 0)
            + (IsParallelOutOf(other) && !old.IsParallelOutOf(oldOther) ? 1 : 0);

    private bool IsParallelInto(VoiceMotion other) => AreParallel(Before, First, other.Before, other.First);

    private bool IsParallelOutOf(VoiceMotion other) => AreParallel(Last, After, other.Last, other.After);

    private static double Of(Pitch? neighbour, Pitch pitch)
    {
        if (neighbour is not { } note) return 0;
        var semitones = Math.Abs(note.Midi - pitch.Midi);
        return (VoicingCosts.Semitone * semitones) + (semitones > 4 ? VoicingCosts.Leap : 0);
    }

    private static bool AreParallel(Pitch? from, Pitch? to, Pitch? otherFrom, Pitch? otherTo)
    {
        if (from is not { } a || to is not { } b || otherFrom is not { } c || otherTo is not { } d) return false;
        var (startA, endA, startB, endB) = (a.Midi, b.Midi, c.Midi, d.Midi);
        if (Math.Sign(endA - startA) is var direction && (direction == 0 || direction != Math.Sign(endB - startB))) return false;
        // On the line of fifths the upper tone of a perfect fifth lies one above the lower, and octaves on it; both moved by an octave are
        // one tone still.
        var (first, second) = (startA > startB ? a.Tone - c.Tone : c.Tone - a.Tone, endA > endB ? b.Tone - d.Tone : d.Tone - b.Tone);
        return first == second && (first == 1 || (first == 0 && a.Tone != b.Tone));
    }
}
