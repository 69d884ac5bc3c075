using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Devices;

/// <summary>A chord of a reading with its function and device.</summary>
/// <param name="Reading">The chord, its key, numeral and confidence.</param>
/// <param name="Function">What it does in its key.</param>
/// <param name="Device">The chromatic device; null where the chord is diatonic in its key.</param>
/// <param name="Also">Other devices that it may be taken for, the nearest first.</param>
/// <param name="Target">The numeral that an applied chord points at (<c>ii</c>), or null.</param>
/// <param name="Resolution">How the device goes on.</param>
/// <param name="OutsideHome">Whether the chord has a place outside the home key of the cue.</param>
/// <param name="Reason">Why, as facts that can be pointed at in the score; null where there is nothing to say.</param>
public sealed record TaggedChord(
    ChordReading Reading,
    HarmonicFunction Function,
    Device? Device,
    IReadOnlyList<Device> Also,
    string? Target,
    Resolution Resolution,
    bool OutsideHome,
    DeviceReason? Reason)
{
    /// <summary>Whether the chord is outside its local key.</summary>
    public bool IsOutside => Device is not null;
}
