using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// The diminished seventh that keeps the root of the chord that follows while its other voices move by step (KP, La in docs/devices.md).
/// That is a major chord of the key, since the raised second degree above the root of a minor one would be its third and stay; and the
/// chord before holds that root too, so that the tone is common.
/// </summary>
internal sealed class CommonToneRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (place is not { Before: { } before, After: { TriadMode: Mode.Major, IsCadential: false, IsOutside: false } after }) yield break;
        if (!before.Has(after.Root) || (place.Target is null && !place.GoesToTonic)) yield break;
        yield return Substitution.Of(
            Numeral.CommonToneDiminished(0, place.Target), Device.CommonToneDiminished, new KeepsRoot(), 0, 1, 2, 3);
    }
}
