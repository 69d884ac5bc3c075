namespace ScoreLens.Devices;

/// <summary>The chromatic devices, in the order in which the first that fits names the chord.</summary>
public enum Device
{
    /// <summary>Italian, French or German sixth: the lowered sixth degree below the raised fourth.</summary>
    AugmentedSixth,

    /// <summary>A major triad on the lowered second degree, most often in first inversion.</summary>
    Neapolitan,

    /// <summary>A major triad or dominant seventh applied to another degree than the tonic.</summary>
    SecondaryDominant,

    /// <summary>A diminished triad or seventh chord applied to another degree than the tonic.</summary>
    SecondaryLeadingTone,

    /// <summary>A dominant seventh a tritone from the dominant that it stands for; it falls by a semitone.</summary>
    TritoneSubstitute,

    /// <summary>A chord borrowed from the parallel key, the Picardy third included.</summary>
    ModalMixture,

    /// <summary>A diminished seventh chord that keeps the root of the chord that it decorates.</summary>
    CommonToneDiminished,

    /// <summary>A triad of the same quality as a chord beside it, their roots a third apart: one common tone.</summary>
    ChromaticMediant,

    /// <summary>A triad of the opposite quality to a chord beside it, their roots a third apart: no common tone.</summary>
    DoubleChromaticMediant,

    /// <summary>A dominant with a raised or lowered fifth.</summary>
    AlteredDominant,

    /// <summary>A chord outside the key that is none of the others.</summary>
    OtherChromatic,
}

/// <summary>How a device goes on.</summary>
public enum Resolution
{
    /// <summary>The question does not arise: no device, or one that may go on freely.</summary>
    None,

    /// <summary>It goes on as expected.</summary>
    Resolved,

    /// <summary>It goes on as expected after something that stands between.</summary>
    Delayed,

    /// <summary>It does not go on as expected.</summary>
    Unresolved,
}

/// <summary>The names of devices in tables and on the command line.</summary>
public static class DeviceNames
{
    /// <summary>Every device in order.</summary>
    public static IReadOnlyList<Device> All { get; } = Enum.GetValues<Device>();

    /// <summary>The name in tables: <c>secondary-dominant</c>.</summary>
    public static string Name(this Device device) => device switch
    {
        Device.AugmentedSixth => "augmented-sixth",
        Device.Neapolitan => "neapolitan",
        Device.SecondaryDominant => "secondary-dominant",
        Device.SecondaryLeadingTone => "secondary-leading-tone",
        Device.TritoneSubstitute => "tritone-substitute",
        Device.ModalMixture => "modal-mixture",
        Device.CommonToneDiminished => "common-tone-diminished",
        Device.ChromaticMediant => "chromatic-mediant",
        Device.DoubleChromaticMediant => "double-chromatic-mediant",
        Device.AlteredDominant => "altered-dominant",
        Device.OtherChromatic => "other-chromatic",
        _ => throw new ArgumentOutOfRangeException(nameof(device), device, "Unknown device."),
    };

    /// <summary>The name of a resolution in tables: <c>resolved</c>, <c>delayed</c>, <c>unresolved</c>, or empty.</summary>
    public static string Name(this Resolution resolution) => resolution switch
    {
        Resolution.None => "",
        Resolution.Resolved => "resolved",
        Resolution.Delayed => "delayed",
        Resolution.Unresolved => "unresolved",
        _ => throw new ArgumentOutOfRangeException(nameof(resolution), resolution, "Unknown resolution."),
    };

    /// <summary>The device with a name in tables, if there is one.</summary>
    public static bool TryParse(string name, out Device device)
    {
        foreach (var candidate in All)
        {
            if (candidate.Name() != name) continue;
            device = candidate;
            return true;
        }

        device = default;
        return false;
    }
}
