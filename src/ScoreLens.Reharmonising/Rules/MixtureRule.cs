using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// Chords of the parallel key with the same function as the one that stands there, or that prepare the dominant that follows (AS, KP in
/// docs/devices.md).
/// </summary>
internal sealed class MixtureRule : ISubstitutionRule
{
    private static readonly (HarmonicFunction Function, Mode Mode, string Numeral, int[] Inversions)[] Chords =
    [
        (HarmonicFunction.Tonic, Mode.Major, "i", [0, 1]),
        (HarmonicFunction.Tonic, Mode.Major, "bVI", [0]),
        (HarmonicFunction.Tonic, Mode.Major, "bIII", [0]),
        (HarmonicFunction.Predominant, Mode.Major, "iv", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Major, "iio", [1]),
        (HarmonicFunction.Predominant, Mode.Major, "iiø7", [0, 1]),
        (HarmonicFunction.Predominant, Mode.Major, "bVI", [0]),
        (HarmonicFunction.Dominant, Mode.Major, "viio7", [0, 1]),
        (HarmonicFunction.Dominant, Mode.Major, "v", [0, 1]),
        (HarmonicFunction.Dominant, Mode.Major, "bVII", [0]),
        (HarmonicFunction.Dominant, Mode.Major, "bVII7", [0]),
        (HarmonicFunction.Tonic, Mode.Minor, "I", [0]),
        (HarmonicFunction.Predominant, Mode.Minor, "IV", [0]),
        (HarmonicFunction.Predominant, Mode.Minor, "ii", [0, 1]),
    ];

    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        foreach (var (function, mode, numeral, inversions) in Chords)
        {
            var prepares = function == HarmonicFunction.Predominant && place.GoesToDominant;
            var leads = function == HarmonicFunction.Dominant && place.GoesToTonic;
            if (mode != place.Key.Mode || (!place.IsBetween && !IsPicardy(place, numeral))
                || (function != place.Function && !prepares && !leads)) continue;
            var use = prepares ? BorrowedUse.Prepares : leads ? BorrowedUse.Leads : BorrowedUse.StandsFor;
            yield return Substitution.Of(numeral, Device.ModalMixture, new Borrowed(use), inversions);
        }
    }

    // The one borrowed chord that a cue may end on (common practice).
    private static bool IsPicardy(ChordPlace place, string numeral) => place.After is null && place.Key.IsMinor && numeral == "I";
}
