using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>Names the chromatic devices of a reading, with function, resolution and reason.</summary>
public static class DeviceFinder
{
    /// <summary>Tags every chord of a reading.</summary>
    public static IReadOnlyList<TaggedChord> Find(HarmonicReading reading, IReadOnlyList<Sonority> sonorities)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(sonorities);
        return [.. reading.Chords.Select(chord => Tag(chord, reading.HomeKey))];
    }

    private static TaggedChord Tag(ChordReading chord, Key home)
    {
        if (chord.Numeral is not { } numeral) return new TaggedChord(chord, HarmonicFunction.None, null, [], null, Resolution.None, false, "");
        Device? device = Diatonic.Contains(chord.Key, numeral) ? null
            : numeral.Kind == NumeralKind.AugmentedSixth ? Device.AugmentedSixth
            : numeral.IsApplied ? (numeral.Degree == 7 ? Device.SecondaryLeadingTone : Device.SecondaryDominant)
            : numeral is { Degree: 2, Alteration: -1 } ? Device.Neapolitan
            : Device.OtherChromatic;
        return new TaggedChord(
            chord, HarmonicFunction.None, device, [], numeral.Target?.ToString(), Resolution.None, !Diatonic.Contains(home, numeral.Tones(chord.Key)), "");
    }
}
