using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Writes what is applied to the fifth degree of a minor key as applied to V: "a dominant is major, and so is what leads to it" (common
/// practice; the corpus's experts write 1,152 such chords /V and 326 /v).
/// </summary>
internal sealed class AppliedDominants : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context) =>
        [.. chords.Select(c => c with { Numeral = ToMajor(c.Key, c.Numeral),
            RunnersUp = [.. c.RunnersUp.Select(r => r with { Numeral = ToMajor(r.Key, r.Numeral)! })] })];

    private static Numeral? ToMajor(Key key, Numeral? numeral)
    {
        if (!key.IsMinor || numeral is not { Target: { Degree: 5, Alteration: 0, Mode: Mode.Minor, Of: null } target }) return numeral;
        var dominant = target with { Mode = Mode.Major };
        return numeral.Kind switch
        {
            NumeralKind.Plain => Numeral.For(key, numeral.Root(key), numeral.Quality, numeral.Inversion, dominant, numeral.Extension)
                ?? numeral,
            NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, numeral.Inversion, dominant),
            // The six-four of a minor triad has that triad's third.
            _ => numeral,
        };
    }
}
