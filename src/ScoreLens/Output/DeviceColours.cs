using ScoreLens.Devices;

namespace ScoreLens.Output;

/// <summary>
/// The colour of every device wherever it is shown on white: our own choice, dark enough for text (contrast 4.5:1 or more,
/// WCAG 2.2, success criterion 1.4.3), and apart from each other and from black for every kind of colour vision.
/// Colour is never the only sign: see <see cref="DeviceSigns"/>.
/// </summary>
public static class DeviceColours
{
    /// <summary>The colour as <c>#RRGGBB</c>, upper-case hexadecimal digits.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a device.</exception>
    public static string Of(Device device) => device switch
    {
        Device.AugmentedSixth => "#008855",
        Device.Neapolitan => "#772244",
        Device.SecondaryDominant => "#1166FF",
        Device.SecondaryLeadingTone => "#004477",
        Device.TritoneSubstitute => "#2200EE",
        Device.ModalMixture => "#CC4400",
        Device.CommonToneDiminished => "#886699",
        Device.ChromaticMediant => "#991100",
        Device.DoubleChromaticMediant => "#550000",
        Device.AlteredDominant => "#220044",
        Device.OtherChromatic => "#6B6B6B",
        _ => throw new ArgumentOutOfRangeException(nameof(device), device, "Unknown device."),
    };
}
