using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>The place that another chord is wanted for: the chord that stands there, and its neighbours.</summary>
/// <param name="Chord">The chord that stands there.</param>
/// <param name="Function">What it does in its key.</param>
/// <param name="Device">The device that it is; null for a chord of the key.</param>
internal sealed record ChordPlace(ChordInContext Chord, HarmonicFunction Function, Device? Device)
{
    public Key Key => Chord.Key;

    public ChordInContext? Before => Chord.Before;

    public ChordInContext? After => Chord.After;

    /// <summary>
    /// The tone that the next chord stands on where a dominant can lead there: a major or minor chord, or a cadential six-four.
    /// </summary>
    public Tone? Goal => After is not { TriadMode: not null } after ? null : after.IsCadential ? after.Bass : after.Root;

    /// <summary>The next chord as what an applied chord points at; null where it is the tonic or no goal.</summary>
    public AppliedTarget? Target =>
        Goal is { } goal && !goal.IsEnharmonicWith(Key.Tonic) && After is { } after
            ? OwnDegrees.Target(Key, goal, after.TriadMode)
            : null;

    /// <summary>Whether chords stand on both sides: what opens or ends a cue says the key and takes no chord from outside it.</summary>
    public bool IsBetween => Before is not null && After is not null;

    /// <summary>
    /// Whether a chord of the key would stand for the tonic on another degree where the cue opens or ends, and the tonic itself has to say
    /// the key.
    /// </summary>
    public bool IsTooFarForEdge(HarmonicFunction function, string numeral) =>
        !IsBetween && function == HarmonicFunction.Tonic && !numeral.Equals("I", StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether the cue opens or ends here on its tonic, which stays (common practice).</summary>
    public bool IsTonicAtEdge => !IsBetween && Function == HarmonicFunction.Tonic && Chord.Above == 0;

    /// <summary>
    /// Whether a chord is the one that stands there with or without its seventh, in whatever inversion; augmented sixths are told apart by
    /// kind.
    /// </summary>
    public bool IsSameHarmony(Numeral numeral) =>
        numeral.Kind == NumeralKind.Plain && !Chord.Quality.IsAugmentedSixth() && numeral.Root(Key).IsEnharmonicWith(Chord.Root)
            && numeral.Tones(Key).Take(3).All(Chord.Has);

    /// <summary>Whether the next chord stands on a degree of the key that has a major or minor triad, the tonic left out.</summary>
    public bool GoesToOwnDegree => Goal is { } goal && OwnDegrees.Has(Key, goal);

    public bool GoesToTonic => Goal is { } goal && goal.IsEnharmonicWith(Key.Tonic);

    /// <summary>Whether V or a cadential six-four comes next.</summary>
    public bool GoesToDominant => Goal is { } goal && goal.IsEnharmonicWith(Key.Tonic + 1)
        && (After!.IsCadential || After.TriadMode == Mode.Major);
}
