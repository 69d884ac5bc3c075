using ScoreLens.Devices;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// The dominant with a raised fifth before a major tonic, to whose third it rises (Pi in docs/devices.md). In minor that fifth is the key's
/// own third.
/// </summary>
internal sealed class AlteredDominantRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.GoesToTonic || place.Key.IsMinor) yield break;
        yield return Substitution.Of("V+", Device.AlteredDominant,
            $"the dominant with a raised fifth, which rises as {place.After!.Numeral} follows", 0);
        yield return Substitution.Of("V+7", Device.AlteredDominant,
            $"the dominant seventh with a raised fifth, which rises as {place.After!.Numeral} follows", 0);
    }
}
