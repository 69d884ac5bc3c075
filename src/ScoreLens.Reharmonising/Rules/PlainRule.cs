using ScoreLens.Devices;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>The plain chord of the key behind a coloured one (<see cref="PlainChord"/>): less colour is always among the offers.</summary>
internal sealed class PlainRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.Chord.IsOutside) yield break;
        foreach (var (numeral, inversions) in PlainChord.Of(place.Key, place.Chord.Numeral, place.Device == Device.TritoneSubstitute))
            yield return Substitution.Of(numeral, null, new PlainBehind(), inversions);
    }
}
