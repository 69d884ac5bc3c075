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
        yield return Substitution.Of("V+", Device.AlteredDominant, new RaisedFifth(HasSeventh: false), 0);
        yield return Substitution.Of("V+7", Device.AlteredDominant, new RaisedFifth(HasSeventh: true), 0);
    }
}
