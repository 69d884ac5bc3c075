using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Experts;

/// <summary>A chord without what its figures say of the bass.</summary>
internal static class Harmony
{
    /// <summary>The numeral in root position and without extensions; of an augmented sixth its common form.</summary>
    public static Numeral Of(Numeral numeral) => numeral.Kind switch
    {
        NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, 0, numeral.Target),
        NumeralKind.CommonToneDiminished => Numeral.CommonToneDiminished(0, numeral.Target),
        NumeralKind.CadentialSixFour => numeral,
        _ => new Numeral(numeral.Degree, numeral.Quality, 0, numeral.Alteration, numeral.Target),
    };
}
