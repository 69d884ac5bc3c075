using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// The chromatic chords that prepare V or the cadential six-four: the Neapolitan and the augmented sixths (AS, KP in docs/devices.md).
/// </summary>
internal sealed class PredominantRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.GoesToDominant) yield break;
        var dominant = place.Key.Tonic + 1;
        var outward = place.After!.Bass.IsEnharmonicWith(dominant)
            ? $"whose outer tones open to the octave on {dominant} in {place.Follows}"
            : $"whose flat sixth and sharp fourth degrees lead to the {dominant} of {place.Follows}";
        yield return Substitution.Of(Numeral.Neapolitan(), Device.Neapolitan, $"the Neapolitan sixth, which prepares {place.Follows}", 1);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.ItalianSixth), Device.AugmentedSixth,
            $"an Italian sixth {outward}", 0);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.FrenchSixth), Device.AugmentedSixth, $"a French sixth {outward}",
            0);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.GermanSixth), Device.AugmentedSixth, $"a German sixth {outward}",
            0);
    }
}
