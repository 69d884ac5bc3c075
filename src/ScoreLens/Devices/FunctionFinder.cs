using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>What chords do in their key: tonic, predominant, dominant.</summary>
internal static class FunctionFinder
{
    /// <summary>
    /// The function of a chord with its device, by the table in docs/devices.md: applied chords of V prepare it and are
    /// predominant, other applied chords are dominants of their target; VI and III stand for the tonic unless V follows at once.
    /// </summary>
    public static HarmonicFunction Of(ChordInContext chord, DeviceFinding? finding)
    {
        if (chord.IsCadential) return HarmonicFunction.Dominant;
        switch (finding?.Device)
        {
            case Device.AugmentedSixth or Device.Neapolitan:
                return HarmonicFunction.Predominant;
            case Device.SecondaryDominant or Device.SecondaryLeadingTone or Device.TritoneSubstitute or Device.AlteredDominant:
                return finding.Target is { Degree: 5, Alteration: 0, Of: null } ? HarmonicFunction.Predominant : HarmonicFunction.Dominant;
            case Device.CommonToneDiminished:
                return finding.Target is { Degree: 5, Alteration: 0, Of: null } ? HarmonicFunction.Dominant : finding.Target is null
                    ? HarmonicFunction.Tonic : HarmonicFunction.None;
        }

        var goesToDominant = chord.Following().FirstOrDefault() is { } next
            && (next.IsCadential || (next.Above == 7 && next.TriadMode == Mode.Major));
        return chord.Above switch
        {
            0 => HarmonicFunction.Tonic,
            1 => HarmonicFunction.Predominant,
            2 => HarmonicFunction.Predominant,
            3 or 4 => HarmonicFunction.Tonic,
            5 => HarmonicFunction.Predominant,
            6 => HarmonicFunction.None,
            7 => HarmonicFunction.Dominant,
            8 or 9 => goesToDominant ? HarmonicFunction.Predominant : HarmonicFunction.Tonic,
            _ => HarmonicFunction.Dominant,
        };
    }
}
