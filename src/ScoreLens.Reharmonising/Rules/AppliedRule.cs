using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Rules;

/// <summary>
/// The dominant seventh and the leading-tone seventh chord of the chord that follows (AS, KP in docs/devices.md): leading-tone chords of
/// the key's own degrees alone, half-diminished only before a major chord and with a seventh of the key.
/// </summary>
internal sealed class AppliedRule : ISubstitutionRule
{
    public IEnumerable<Substitution?> Offer(ChordPlace place)
    {
        if (!place.IsBetween || place.Target is not { } target) yield break;
        yield return Substitution.Of(
            new Numeral(5, ChordQuality.DominantSeventh, target: target), Device.SecondaryDominant, new LeadsOn(LeadingChord.Dominant), 0,
                1, 2, 3);
        if (!place.GoesToOwnDegree) yield break;
        yield return Substitution.Of(
            new Numeral(7, ChordQuality.DiminishedSeventh, target: target), Device.SecondaryLeadingTone,
                new LeadsOn(LeadingChord.Diminished), 0, 1, 2);
        var half = new Numeral(7, ChordQuality.HalfDiminishedSeventh, target: target);
        if (place.After is { IsCadential: false, TriadMode: Mode.Major } && place.Key.Contains(half.Tones(place.Key)[3]))
        {
            yield return Substitution.Of(
                half, Device.SecondaryLeadingTone, new LeadsOn(LeadingChord.HalfDiminished), 0, 1);
        }
    }
}
