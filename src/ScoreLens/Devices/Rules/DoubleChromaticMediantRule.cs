namespace ScoreLens.Devices.Rules;

/// <summary>A triad whose root lies a third from the chord before or after, of the opposite quality, without a common tone.</summary>
internal sealed class DoubleChromaticMediantRule : IDeviceRule
{
    public DeviceFinding? Examine(ChordInContext chord)
    {
        var other = Third.From(chord, chord.Before, isSameMode: false)
            ?? Third.From(chord, chord.Following().FirstOrDefault(), isSameMode: false);
        return other is null ? null : new DeviceFinding(Device.DoubleChromaticMediant, true, Resolution.None,
            Third.Reason(chord, other, null, false));
    }
}
