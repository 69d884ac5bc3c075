using ScoreLens.Devices;

namespace ScoreLens.Output;

/// <summary>The short names of devices under the notes of a score, where a long word would push the notes apart.</summary>
public static class DeviceSigns
{
    /// <summary>A word or two that a musician reads at once: <c>sec. dom.</c>, <c>mixture</c>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a device.</exception>
    public static string Of(Device device) => device switch
    {
        Device.AugmentedSixth => "aug. 6th",
        Device.Neapolitan => "Neap.",
        Device.SecondaryDominant => "sec. dom.",
        Device.SecondaryLeadingTone => "sec. vii°",
        Device.TritoneSubstitute => "tritone sub.",
        Device.ModalMixture => "mixture",
        Device.CommonToneDiminished => "c.-t. dim.",
        Device.ChromaticMediant => "mediant",
        Device.DoubleChromaticMediant => "dbl. mediant",
        Device.AlteredDominant => "alt. dom.",
        Device.OtherChromatic => "chrom.",
        _ => throw new ArgumentOutOfRangeException(nameof(device), device, "Unknown device."),
    };
}
