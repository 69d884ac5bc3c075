using ScoreLens.Devices.Rules;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Names the chromatic devices of a reading, with function, resolution and reason.</summary>
internal static class DeviceFinder
{
    // In the order in which the first that fits names the chord.
    private static readonly IDeviceRule[] Rules =
    [
        new AugmentedSixthRule(),
        new NeapolitanRule(),
        new SecondaryDominantRule(),
        new SecondaryLeadingToneRule(),
        new TritoneSubstituteRule(),
        new ModalMixtureRule(),
        new CommonToneDiminishedRule(),
        new ChromaticMediantRule(),
        new DoubleChromaticMediantRule(),
        new AlteredDominantRule(),
        new OtherChromaticRule(),
    ];

    /// <summary>
    /// Tags every chord of a reading. The verticals tell spelling and voice leading; without them the numerals alone are judged.
    /// </summary>
    public static IReadOnlyList<TaggedChord> Find(HarmonicReading reading, IReadOnlyList<Sonority> sonorities) =>
        Find(reading, Evidence.Of(sonorities));

    /// <summary>The same with phrases, which tell a close, and names of parts, which tell who moves.</summary>
    public static IReadOnlyList<TaggedChord> Find(HarmonicReading reading, Evidence evidence)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(evidence);
        if (reading.Chords.Any(c => c.Sound == ChordSound.Unknown)) reading =
            reading with { Chords = ChordSound.Hear(reading.Chords, evidence.Sonorities) };
        var chords = ChordInContext.Link(reading, evidence);
        return [.. reading.Chords.Select((chord, i) => chords[i] is { } inContext ? Tag(inContext, chord, reading.HomeKey)
            : Silent(chord))];
    }

    private static TaggedChord Silent(ChordReading chord) => new(chord, HarmonicFunction.None, null, [], null, Resolution.None, false,
        null);

    private static TaggedChord Tag(ChordInContext chord, ChordReading reading, Key home)
    {
        var findings = Findings(chord);
        var chosen = findings.FirstOrDefault(f => f.IsConfirmed) ?? findings.FirstOrDefault();
        var (function, target) = (FunctionFinder.Of(chord, chosen), Target(chord, chosen)?.ToString());
        if (chosen is not null && Proof.DoubtOf(chord, chosen) is { } doubt)
            return new TaggedChord(reading, function, null, [], target, Resolution.None, false,
                new UnprovenReason(chord.Named, chosen.Device, doubt));
        var also = findings.Where(f => f != chosen && f.Device != Device.OtherChromatic && f.Reason is not null).Select(f => f.Device)
            .ToArray();
        var outsideHome = chord.Key == home ? chosen is not null : !Diatonic.Contains(home, chord.Tones);
        return new TaggedChord(reading, function, chosen?.Device, also, target, chosen?.Resolution ?? Resolution.None, outsideHome,
            chosen?.Reason);
    }

    // What the numeral is applied to where the device points at nothing else; but a diminished seventh that decorates the tonic points at
    // nothing, whichever leading tone the numeral names it by.
    private static AppliedTarget? Target(ChordInContext chord, DeviceFinding? chosen) =>
        chosen is { Target: not null } or { Device: Device.CommonToneDiminished } ? chosen.Target : chord.IsApplied ? chord.Numeral.Target
            : null;

    private static List<DeviceFinding> Findings(ChordInContext chord)
    {
        var findings = new List<DeviceFinding>();
        if (!chord.IsOutside && ModalMixtureRule.IsRaisedSixthFalling(chord) is null) return findings;
        if (chord.IsBluesSeventh) return [OtherChromaticRule.OfBlues(chord)];
        foreach (var rule in Rules)
            if (rule.Examine(chord) is { } finding) findings.Add(finding);
        if (findings is [{ Device: Device.OtherChromatic }] && PassingChords.IsOne(chord)) findings.Clear();
        return findings;
    }
}
