using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>What a rule says of a chord.</summary>
/// <param name="Device">The device.</param>
/// <param name="IsConfirmed">Whether the context bears it out; a chord that only could be the device yields to one that is.</param>
/// <param name="Resolution">How it goes on.</param>
/// <param name="Reason">Why, as facts; null where the tone that would make it one does not sound.</param>
/// <param name="Target">What it points at where that is not the tonic.</param>
internal sealed record DeviceFinding(Device Device, bool IsConfirmed, Resolution Resolution, DeviceReason? Reason,
    AppliedTarget? Target = null);

/// <summary>A rule for one device: recognises it in context, says why, and judges how it resolves.</summary>
internal interface IDeviceRule
{
    /// <summary>What the rule says of a chord outside its key, or null where the device is out of the question.</summary>
    DeviceFinding? Examine(ChordInContext chord);
}
