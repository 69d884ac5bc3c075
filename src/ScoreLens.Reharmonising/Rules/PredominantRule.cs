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
        yield return Sixth(ChordQuality.ItalianSixth, "an Italian");
        yield return Sixth(ChordQuality.FrenchSixth, "a French");
        yield return Sixth(ChordQuality.GermanSixth, "a German");

        Substitution? Sixth(ChordQuality quality, string name) =>
            Substitution.Of(Numeral.AugmentedSixth(quality), Device.AugmentedSixth, new SixthBefore(name, opens), 0);
    }
}
