using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// The dominant seventh a semitone above the chord that follows, in place of that chord's dominant a tritone away (Le in docs/devices.md).
/// </summary>
internal sealed class TritoneSubstituteRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.IsBetween || place.Goal is not { } goal || !(place.GoesToTonic || place.GoesToOwnDegree)) yield break;
        var root = (goal + -5).NearestTo(place.Key.Tonic + -1);
        yield return Substitution.Of(
            Numeral.For(place.Key, root, ChordQuality.DominantSeventh), Device.TritoneSubstitute, new TritoneOfDominant(), 0);
    }
}
