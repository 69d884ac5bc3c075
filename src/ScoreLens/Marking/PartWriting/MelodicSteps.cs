namespace ScoreLens.Marking.PartWriting;

/// <summary>A voice's motion from one note to the next.</summary>
/// <param name="From">The first note.</param>
/// <param name="To">The second note.</param>
/// <param name="Next">The next other note after the second, or null where the voice rests or the phrase ends.</param>
/// <param name="IsInOneChord">Whether both belong to one chord, or to chords of one harmony.</param>
internal sealed record MelodicStep(LineNote From, LineNote To, LineNote? Next, bool IsInOneChord)
{
    public Interval Interval => Interval.Between(From.Pitch, To.Pitch);

    private Interval? After => Next is null ? null : Interval.Between(To.Pitch, Next.Pitch);

    /// <summary>The voice goes on by a step the other way; also true where it goes no further.</summary>
    public bool TurnsBackByStep => After is not { } after || (after.Direction == -Interval.Direction && after.IsStep);

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
            var next = to;
            do
            {
                var after = progression.After(next);
                next = after is not null && progression.IsConnected(next, after) ? after : null;
            }
            while (next is not null && next.Pitch == to.Pitch);
            yield return new MelodicStep(from, to, next, IsInOneChord(progression, from, to));
        }
    }

    // A note held over from the chord before counts with the chord in which it ends.
    private static bool IsInOneChord(VoicedProgression progression, LineNote from, LineNote to)
    {
        if (progression.MomentAt(to.Onset) is not { Index: > 0 } moment) return false;
        if (progression.ChordOf(moment) is not { } second || progression.ChordOf(progression.Moments[moment.Index - 1]) is not { } first) return false;
        return (first == second || first.IsSameHarmonyAs(second)) && second.Has(from.Pitch.Tone) && second.Has(to.Pitch.Tone);
    }
}
