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

    /// <summary>
    /// The same chord without its device where the reading is less sure than is asked for; its reason says so, and no share counts it.
    /// </summary>
    /// <param name="least">The least confidence, 0 to 1.</param>
    public TaggedChord AtLeast(double least) => Device is { } device && Reading.Numeral is { } numeral && Reading.Confidence < least
        ? this with
        {
            Device = null,
            Also = [],
            Resolution = Resolution.None,
            OutsideHome = false,
            Reason = new UnprovenReason(new NamedChord(Reading.Key, numeral), device, Doubt.LessSure),
        }
        : this;
}
