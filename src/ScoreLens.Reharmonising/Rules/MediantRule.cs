using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// Triads a third from the chord before or after, of the same quality and with one common tone, or of the opposite one and with none (KP,
/// La in docs/devices.md).
/// </summary>
internal sealed class MediantRule : ISubstitutionRule
{
    // A third up or down as musicians spell it, in fifths: major 4, minor -3.
    private static readonly int[] Thirds = [4, -4, 3, -3];

    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.IsBetween) yield break;
        foreach (var neighbour in (ChordInContext?[])[place.Before, place.After])
        {
            if (neighbour is not { TriadMode: { } mode } || neighbour.IsDominantSeventh) continue;
            foreach (var third in Thirds)
            {
                var root = (neighbour.Root + third).NearestTo(place.Key.Tonic);
                foreach (var quality in (ChordQuality[])[ChordQuality.Major, ChordQuality.Minor])
                {
                    var isSame = (quality == ChordQuality.Minor) == (mode == Mode.Minor);
                    yield return Substitution.Of(
                        Numeral.For(place.Key, root, quality),
                        isSame ? Device.ChromaticMediant : Device.DoubleChromaticMediant,
                        new ThirdFrom(neighbour.Numeral, isSame),
                        0);
                }
            }
        }
    }
}
