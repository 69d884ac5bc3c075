using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>What sets a cue apart from others: the device that takes most more of its time than of theirs.</summary>
/// <param name="Device">The device.</param>
/// <param name="Here">Its share of the cue's time, 0..1.</param>
/// <param name="Elsewhere">Its share of the time of the other cues together, 0..1.</param>
public sealed record Characteristic(Device Device, Fraction Here, Fraction Elsewhere)
{
    // Less than this is chance: one short chord in a cue of a few minutes.
    private static readonly Fraction Least = new(1, 100);

    /// <summary>The characteristic of a cue; null where no device takes a hundredth of the time more than elsewhere.</summary>
    /// <param name="cue">The cue.</param>
    /// <param name="others">The other cues; none where it stands alone, and its longest device is taken.</param>
    public static Characteristic? Of(Shares cue, IEnumerable<Shares> others)
    {
        ArgumentNullException.ThrowIfNull(cue);
        ArgumentNullException.ThrowIfNull(others);
        var elsewhere = Shares.Sum(others);
        return DeviceNames.All.Select(d => new Characteristic(d, cue.TimeOf(d), elsewhere.TimeOf(d)))
            .Where(c => c.Here - c.Elsewhere >= Least)
            .MaxBy(c => c.Here - c.Elsewhere);
    }
}
