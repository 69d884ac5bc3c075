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
        var opens = place.After!.Bass.IsEnharmonicWith(place.Key.Tonic + 1);
        yield return Substitution.Of(Numeral.Neapolitan(), Device.Neapolitan, new NeapolitanBefore(), 1);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.ItalianSixth), Device.AugmentedSixth, new SixthBefore("an Italian", opens), 0);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.FrenchSixth), Device.AugmentedSixth, new SixthBefore("a French", opens), 0);
        yield return Substitution.Of(Numeral.AugmentedSixth(ChordQuality.GermanSixth), Device.AugmentedSixth, new SixthBefore("a German", opens), 0);
    }
}
