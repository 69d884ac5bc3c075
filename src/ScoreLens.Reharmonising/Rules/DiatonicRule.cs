using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// Chords of the key with the same function as the one that stands there (Riemann's idea as handbooks give it: vi and iii for I, ii and IV
/// for each other, V and viio); and before the tonic its dominant.
/// </summary>
internal sealed class DiatonicRule : ISubstitutionRule
{
    private static readonly (HarmonicFunction Function, Mode Mode, string Numeral, int[] Inversions)[] Chords =
    [
        (HarmonicFunction.Tonic, Mode.Major, "I", [0, 1]),
        (HarmonicFunction.Tonic, Mode.Major, "vi", [0]),
        (HarmonicFunction.Tonic, Mode.Major, "iii", [0]),
        (HarmonicFunction.Predominant, Mode.Major, "ii", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Major, "ii7", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Major, "IV", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Major, "vi", [0]),
        (HarmonicFunction.Dominant, Mode.Major, "V", [0, 1]),
        (HarmonicFunction.Dominant, Mode.Major, "V7", [0, 1, 2, 3]),
        (HarmonicFunction.Dominant, Mode.Major, "viio", [1]),
        (HarmonicFunction.Dominant, Mode.Major, "viiø7", [0, 1]),
        (HarmonicFunction.Tonic, Mode.Minor, "i", [0, 1]),
        (HarmonicFunction.Tonic, Mode.Minor, "VI", [0]),
        (HarmonicFunction.Tonic, Mode.Minor, "III", [0]),
        (HarmonicFunction.Predominant, Mode.Minor, "iio", [1]),
        (HarmonicFunction.Predominant, Mode.Minor, "iiø7", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Minor, "iv", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Minor, "VI", [0]),
        (HarmonicFunction.Dominant, Mode.Minor, "V", [0, 1]),
        (HarmonicFunction.Dominant, Mode.Minor, "V7", [0, 1, 2, 3]),
        (HarmonicFunction.Dominant, Mode.Minor, "viio", [1]),
        (HarmonicFunction.Dominant, Mode.Minor, "viio7", [0, 1]),
    ];

    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        foreach (var (function, mode, numeral, inversions) in Chords)
        {
            if (mode != place.Key.Mode || place.IsTooFarForEdge(function, numeral)) continue;
            if (function == place.Function) yield return Substitution.Of(numeral, null, new SameFunction(), inversions);
            else if (function == HarmonicFunction.Dominant && place.GoesToTonic)
                yield return Substitution.Of(numeral, null, new DominantOfTonic(), inversions);
            else if (function == HarmonicFunction.Predominant && place.GoesToDominant)
                yield return Substitution.Of(numeral, null, new PreparesDominant(), inversions);
        }
    }
}
