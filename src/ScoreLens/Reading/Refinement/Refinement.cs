using ScoreLens.Notation;
using ScoreLens.Sonorities;

namespace ScoreLens.Reading.Refinement;

/// <summary>What a refinement may look at beside the chords.</summary>
/// <param name="Score">The score.</param>
/// <param name="Sonorities">Its verticals.</param>
/// <param name="Settings">The numbers that were chosen.</param>
internal sealed record RefinementContext(Score Score, IReadOnlyList<Sonority> Sonorities, ReadingSettings Settings);

/// <summary>One small step from the search's path to the final chords, with the sentence that a teacher would give for it.</summary>
internal interface IRefinement
{
    /// <summary>The chords after the step, in order; what the step does not concern stays as it is.</summary>
    IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context);
}

/// <summary>The way from the search's path to the final chords: after it nothing names a chord again.</summary>
internal static class RefinementSteps
{
    /// <summary>The steps before it is decided which keys count.</summary>
    public static IReadOnlyList<IRefinement> OfKeys { get; } = [new ClosingTonics(), new UnreachedKeys()];

    /// <summary>The steps after it, in order: numerals in their keys, then what the notes plainly say against a numeral.</summary>
    public static IReadOnlyList<IRefinement> OfNumerals { get; } =
    [
        new LoneKeys(),
        new AppliedDominants(),
        new CirclesOfSevenths(),
        new CadentialSixFours(),
        new AlteredFifths(),
        new NearSpellings(),
        new SoundingNames(),
        new DiminishedContinuations(),
    ];

    /// <summary>Some steps, one after another.</summary>
    public static IReadOnlyList<ChordReading> Apply(
        IReadOnlyList<IRefinement> steps, IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        foreach (var step in steps) chords = step.Apply(chords, context);
        return chords;
    }
}
