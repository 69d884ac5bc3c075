using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>The diminished seventh that keeps the root of the chord that follows while its other voices move by step (KP, La in docs/devices.md).</summary>
internal sealed class CommonToneRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.IsBetween || place.After is { IsCadential: true } || (place.Target is null && !place.GoesToTonic)) yield break;
        yield return Substitution.Of(
            Numeral.CommonToneDiminished(0, place.Target), Device.CommonToneDiminished, $"the diminished seventh that keeps the root of {place.Follows}", 0, 1, 2, 3);
    }
}
