using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>What a device is expected to go to.</summary>
/// <param name="Target">A degree; null for the tonic, for a tone or for any chord of the key.</param>
/// <param name="Tone">The tone that the goal stands on where no degree names it.</param>
/// <param name="Tonic">The mode of the tonic where that is the goal.</param>
internal sealed record Expected(AppliedTarget? Target, Tone? Tone, Mode? Tonic)
{
    /// <summary>Any chord of the key.</summary>
    public static Expected OwnChord { get; } = new(null, null, null);

    /// <summary>The dominant.</summary>
    public static Expected Dominant { get; } = new(new AppliedTarget(0, 5, Mode.Major), null, null);

    /// <summary>The tonic of a key.</summary>
    public static Expected TonicOf(Key key) => new(null, null, key.Mode);

    /// <summary>A degree where one is known, else the tone that it stands on.</summary>
    public static Expected On(AppliedTarget? target, Tone tone) => target is null ? new(null, tone, null) : new(target, null, null);
}

/// <summary>How a chord goes on.</summary>
/// <param name="Resolution">Resolved, delayed or unresolved.</param>
/// <param name="Expected">What it is expected to go to.</param>
/// <param name="Goal">The chord that it reaches; null where it reaches none.</param>
/// <param name="Between">The chords that stand between, as the table's rows name them; before <see cref="Instead"/> where no goal is
/// reached.</param>
/// <param name="Instead">The chord that follows where no goal is reached; null at the end.</param>
/// <param name="IsDeceptive">Whether the goal is the target's deceptive sixth.</param>
internal sealed record Course(
    Resolution Resolution, Expected Expected, NamedChord? Goal, IReadOnlyList<NamedChord> Between, NamedChord? Instead, bool IsDeceptive =
        false)
{
    private const int MostBetween = 2;

    /// <summary>The chord that is reached, in context; null where none is.</summary>
    internal ChordInContext? GoalInContext { get; private init; }

    /// <summary>
    /// Looks for the first chord that is a goal: next, after chords that the device usually goes through (<paramref name="through"/>),
    /// or after up to two others, which is a delay. The chord's own repetitions and inversions are passed through.
    /// </summary>
    internal static Course To(ChordInContext chord, Expected expected, Func<ChordInContext, bool> isGoal, Func<ChordInContext,
        bool>? through = null)
    {
        var between = new List<NamedChord>();
        var (strangers, isOwn) = (0, true);
        for (var next = chord.After; next is not null; next = next.After)
        {
            isOwn = isOwn && chord.IsSameHarmony(next);
            if (!isOwn)
            {
                if (isGoal(next))
                {
                    // The goal with an altered fifth before it is the goal already.
                    if (between.Count > 0 && between[^1] == next.Named)
                    {
                        between.RemoveAt(between.Count - 1);
                        strangers = Math.Max(0, strangers - 1);
                    }

                    return new Course(strangers == 0 ? Resolution.Resolved : Resolution.Delayed, expected, next.Named, between,
                        null)
                    { GoalInContext = next };
                }

                if (through?.Invoke(next) != true && ++strangers > MostBetween) break;
            }

            if (between.Count == 0 || between[^1] != next.Named) between.Add(next.Named);
        }

        return Unreached(chord, expected);
    }

    /// <summary>The same course as one that reaches another chord next.</summary>
    internal Course Reaching(ChordInContext chord, ChordInContext goal, bool isDeceptive = false) =>
        new(Resolution.Resolved, Expected, goal.Named, chord.RepetitionsBefore(goal), null, isDeceptive) { GoalInContext = goal };

    private static Course Unreached(ChordInContext chord, Expected expected)
    {
        var next = chord.Following().FirstOrDefault();
        return new Course(Resolution.Unresolved, expected, null, next is null ? [] : chord.RepetitionsBefore(next), next?.Named);
    }
}
