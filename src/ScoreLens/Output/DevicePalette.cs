using ScoreLens.Devices;

namespace ScoreLens.Output;

/// <summary>
/// How devices look wherever they are shown: a colour, a sign and a short code, so that colour is never the only sign.
/// </summary>
/// <remarks>
/// Colours of our own choosing. Dark ones have at least 4.5:1 contrast on white, light ones on <c>#15171C</c> (WCAG 2.2,
/// success criterion 1.4.3); related devices have related hues. Dark ones stay apart from each other and from black in every
/// kind of colour vision: at least 10 by CIEDE2000 with all three kinds of cones and where one kind is missing.
/// </remarks>
public static class DevicePalette
{
    /// <summary>The look of a device.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a device.</exception>
    public static DeviceLook Of(Device device) => device switch
    {
        Device.AugmentedSixth => new("#991100", "#FF9A8F", "✦", "A6", "aug. 6th", "augmented sixth"),
        Device.Neapolitan => new("#772244", "#F59ACB", "◆", "N", "Neap.", "Neapolitan"),
        Device.SecondaryDominant => new("#1166FF", "#8FC2FF", "▲", "SD", "sec. dom.", "secondary dominant"),
        Device.SecondaryLeadingTone => new("#004477", "#63D3E6", "△", "LT", "sec. vii°", "secondary leading tone"),
        Device.TritoneSubstitute => new("#2200EE", "#BBA9FF", "◇", "TS", "tritone sub.", "tritone substitute"),
        Device.ModalMixture => new("#CC4400", "#F2B45A", "◐", "MX", "mixture", "modal mixture"),
        Device.CommonToneDiminished => new("#550000", "#D9CC4A", "○", "CT", "c.-t. dim.", "common-tone diminished"),
        Device.ChromaticMediant => new("#008855", "#7FD98F", "■", "CM", "mediant", "chromatic mediant"),
        Device.DoubleChromaticMediant => new("#220044", "#59D6A6", "□", "DM", "dbl. mediant", "double chromatic mediant"),
        Device.AlteredDominant => new("#886699", "#E3A3F5", "✚", "AD", "alt. dom.", "altered dominant"),
        Device.OtherChromatic => new("#6B6B6B", "#B7BCC4", "●", "OC", "chrom.", "other chromatic"),
        _ => throw new ArgumentOutOfRangeException(nameof(device), device, "Unknown device."),
    };
}

/// <summary>How one device looks.</summary>
/// <param name="Dark">Colour for text on white, <c>#RRGGBB</c>.</param>
/// <param name="Light">Colour for text on a dark ground, <c>#RRGGBB</c>.</param>
/// <param name="Sign">One character that is this device's alone.</param>
/// <param name="Code">One or two letters that are this device's alone.</param>
/// <param name="Label">A word or two that a musician reads at once, short enough to stand under a note.</param>
/// <param name="Title">The name in running text.</param>
public sealed record DeviceLook(string Dark, string Light, string Sign, string Code, string Label, string Title);
