using ScoreLens.Devices;

namespace ScoreLens.Output;

/// <summary>
/// How devices look wherever they are shown: a colour, a sign and a short code, so that colour is never the only sign.
/// </summary>
/// <remarks>
/// Colours of our own choosing. Dark ones have at least 4.5:1 contrast on white, light ones on <c>#15171C</c> (WCAG 2.2,
/// success criterion 1.4.3); related devices have related hues, and neighbours in hue differ in lightness, which colour-blind
/// eyes keep.
/// </remarks>
public static class DevicePalette
{
    /// <summary>The look of a device.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a device.</exception>
    public static DeviceLook Of(Device device) => device switch
    {
        Device.AugmentedSixth => new("#B3261E", "#FF9A8F", "✦", "A6", "augmented sixth"),
        Device.Neapolitan => new("#A0246B", "#F59ACB", "◆", "N", "Neapolitan"),
        Device.SecondaryDominant => new("#0B57A4", "#8FC2FF", "▲", "SD", "secondary dominant"),
        Device.SecondaryLeadingTone => new("#006C80", "#63D3E6", "△", "LT", "secondary leading tone"),
        Device.TritoneSubstitute => new("#5A3FB0", "#BBA9FF", "◇", "TS", "tritone substitute"),
        Device.ModalMixture => new("#8F5200", "#F2B45A", "◐", "MX", "modal mixture"),
        Device.CommonToneDiminished => new("#6B6400", "#D9CC4A", "○", "CT", "common-tone diminished"),
        Device.ChromaticMediant => new("#1F7A33", "#7FD98F", "■", "CM", "chromatic mediant"),
        Device.DoubleChromaticMediant => new("#0F5C3F", "#59D6A6", "□", "DM", "double chromatic mediant"),
        Device.AlteredDominant => new("#8A3FA0", "#E3A3F5", "✚", "AD", "altered dominant"),
        Device.OtherChromatic => new("#5B5F66", "#B7BCC4", "●", "OC", "other chromatic"),
        _ => throw new ArgumentOutOfRangeException(nameof(device), device, "Unknown device."),
    };
}

/// <summary>How one device looks.</summary>
/// <param name="Dark">Colour for text on white, <c>#RRGGBB</c>.</param>
/// <param name="Light">Colour for text on a dark ground, <c>#RRGGBB</c>.</param>
/// <param name="Sign">One character that is this device's alone.</param>
/// <param name="Code">One or two letters that are this device's alone.</param>
/// <param name="Title">The name in running text.</param>
public sealed record DeviceLook(string Dark, string Light, string Sign, string Code, string Title);
