using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>A voice's motion from one note to the next.</summary>
/// <param name="From">The first note.</param>
/// <param name="To">The second note.</param>
/// <param name="Last">The second note, or the last of its repetitions in this or another octave.</param>
/// <param name="Next">The next other note, or null where the voice rests or the phrase ends.</param>
/// <param name="IsInOneChord">Whether both belong to one chord, or to chords of one harmony.</param>
/// <param name="AfterHarmony">The first note after the harmony of the second, or null where the voice rests or the phrase ends
/// before.</param>
internal sealed record MelodicStep(LineNote From, LineNote To, LineNote Last, LineNote? Next, bool IsInOneChord, LineNote? AfterHarmony)
{
    public Interval Interval => Interval.Between(From.Pitch, To.Pitch);

    private Interval? After => Next is null ? null : Interval.Between(Last.Pitch, Next.Pitch);

    /// <summary>The voice goes on by a step the other way; also true where it goes no further.</summary>
    public bool TurnsBackByStep => After is not { } after || IsStepBack(after);

    /// <summary>After other notes of the same harmony the voice goes to the step that turns back.</summary>
    public bool TurnsBackWithTheHarmony => AfterHarmony is { } after && IsStepBack(Interval.Between(To.Pitch, after.Pitch));

    private bool IsStepBack(Interval interval) => interval.Direction == -Interval.Direction && interval.IsStep;

    /// <summary>The voice goes on in the same direction.</summary>
    public bool GoesOn => After is { } after && after.Direction == Interval.Direction;
}

/// <summary>The motions of all voices, without rest or phrase end inside them.</summary>
internal static class MelodicSteps
{
    public static IEnumerable<MelodicStep> Of(VoicedProgression progression)
    {
        foreach (var from in progression.Voices.SelectMany(v => v))
        {
            if (progression.After(from) is not { } to || !progression.IsConnected(from, to) || from.Pitch == to.Pitch) continue;
            var (last, next) = (to, to);
            do
            {
                last = next;
                var after = progression.After(next);
                next = after is not null && progression.IsConnected(next, after) ? after : null;
            }
            while (next is not null && next.Pitch.Tone == to.Pitch.Tone);
            yield return new MelodicStep(from, to, last, next, IsInOneChord(progression, from, to), AfterHarmony(progression, to));
        }
    }

    private static LineNote? AfterHarmony(VoicedProgression progression, LineNote note)
    {
        var chord = progression.ChordAt(note.Onset);
        for (var at = note; progression.After(at) is { } after && progression.IsConnected(at, after); at = after)
            if (progression.ChordAt(after.Onset) is not { } other
                || (other != chord && chord?.IsSameHarmonyAs(other) != true)) return after;
        return null;
    }

    // A note held over from the chord before counts with the chord in which it ends.
    private static bool IsInOneChord(VoicedProgression progression, LineNote from, LineNote to)
    {
        if (progression.MomentAt(to.Onset) is not { Index: > 0 } moment) return false;
        if (progression.ChordOf(moment) is not { } second
            || progression.ChordOf(progression.Moments[moment.Index - 1]) is not { } first) return false;
        return (first == second || first.IsSameHarmonyAs(second)) && second.Has(from.Pitch.Tone) && second.Has(to.Pitch.Tone);
    }
}
