using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>
/// How much of a stretch of music lies outside the key, by time and by chords. Only time with a named chord counts: silence and
/// chords that cannot be named are neither inside nor outside. Exact; the shares of several stretches add up with
/// <see cref="Sum"/>.
/// </summary>
public sealed class Shares
{
    private readonly Fraction[] _deviceTime;
    private readonly int[] _deviceChords;

    private Shares(Fraction quarters, int chords, Fraction outside, int outsideChords, Fraction outsideHome, int outsideHomeChords,
        Fraction[] deviceTime, int[] deviceChords)
    {
        (Quarters, Chords) = (quarters, chords);
        (OutsideQuarters, OutsideChordCount) = (outside, outsideChords);
        (OutsideHomeQuarters, OutsideHomeChordCount) = (outsideHome, outsideHomeChords);
        (_deviceTime, _deviceChords) = (deviceTime, deviceChords);
    }

    /// <summary>Time with a named chord, in quarter notes.</summary>
    public Fraction Quarters { get; }

    /// <summary>Named chords that begin in the stretch.</summary>
    public int Chords { get; }

    /// <summary>Time outside the local key, in quarter notes.</summary>
    public Fraction OutsideQuarters { get; }

    /// <summary>Chords outside the local key that begin in the stretch.</summary>
    public int OutsideChordCount { get; }

    /// <summary>Time outside the home key of the cue, in quarter notes.</summary>
    public Fraction OutsideHomeQuarters { get; }

    /// <summary>Chords outside the home key that begin in the stretch.</summary>
    public int OutsideHomeChordCount { get; }

    /// <summary>Share of time outside the local key, 0..1; 0 where no chord is named.</summary>
    public Fraction OutsideTime => Of(OutsideQuarters);

    /// <summary>Share of chords outside the local key, 0..1; 0 where no chord begins.</summary>
    public Fraction OutsideChords => Chords == 0 ? Fraction.Zero : new Fraction(OutsideChordCount, Chords);

    /// <summary>Share of time outside the home key, 0..1.</summary>
    public Fraction OutsideHomeTime => Of(OutsideHomeQuarters);

    /// <summary>Share of chords outside the home key, 0..1.</summary>
    public Fraction OutsideHomeChords => Chords == 0 ? Fraction.Zero : new Fraction(OutsideHomeChordCount, Chords);

    /// <summary>Devices that take time here, the longest first; of equal length in the order of <see cref="Device"/>.</summary>
    public IReadOnlyList<Device> Devices => [.. DeviceNames.All.Where(d => QuartersOf(d).Sign > 0).OrderByDescending(QuartersOf)];

    /// <summary>Time of a device, in quarter notes.</summary>
    public Fraction QuartersOf(Device device) => _deviceTime[(int)device];

    /// <summary>Chords of a device that begin in the stretch.</summary>
    public int ChordsOf(Device device) => _deviceChords[(int)device];

    /// <summary>Share of time of a device, 0..1. The shares of all devices add up to <see cref="OutsideTime"/>.</summary>
    public Fraction TimeOf(Device device) => Of(QuartersOf(device));

    /// <summary>The shares from one time to another; a chord over an edge counts with the time that lies inside.</summary>
    /// <param name="chords">Chords in order.</param>
    /// <param name="start">From, in quarter notes.</param>
    /// <param name="end">To, in quarter notes.</param>
    public static Shares Between(IEnumerable<TaggedChord> chords, Fraction start, Fraction end)
    {
        ArgumentNullException.ThrowIfNull(chords);
        Fraction quarters = default, outside = default, outsideHome = default;
        int count = 0, outsideCount = 0, outsideHomeCount = 0;
        var deviceTime = new Fraction[DeviceNames.All.Count];
        var deviceChords = new int[DeviceNames.All.Count];
        foreach (var chord in chords)
        {
            var reading = chord.Reading;
            if (reading.Numeral is null || reading.End <= start || reading.Onset >= end) continue;
            var time = Fraction.Min(reading.End, end) - Fraction.Max(reading.Onset, start);
            var begins = reading.Onset >= start ? 1 : 0;
            quarters += time;
            count += begins;
            if (chord.OutsideHome)
            {
                outsideHome += time;
                outsideHomeCount += begins;
            }

            if (chord.Device is not { } device) continue;
            outside += time;
            outsideCount += begins;
            deviceTime[(int)device] += time;
            deviceChords[(int)device] += begins;
        }

        return new Shares(quarters, count, outside, outsideCount, outsideHome, outsideHomeCount, deviceTime, deviceChords);
    }

    /// <summary>Several stretches as one: each weighs as much as it lasts.</summary>
    public static Shares Sum(IEnumerable<Shares> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        Fraction quarters = default, outside = default, outsideHome = default;
        int count = 0, outsideCount = 0, outsideHomeCount = 0;
        var deviceTime = new Fraction[DeviceNames.All.Count];
        var deviceChords = new int[DeviceNames.All.Count];
        foreach (var part in parts)
        {
            quarters += part.Quarters;
            count += part.Chords;
            outside += part.OutsideQuarters;
            outsideCount += part.OutsideChordCount;
            outsideHome += part.OutsideHomeQuarters;
            outsideHomeCount += part.OutsideHomeChordCount;
            for (var i = 0; i < deviceTime.Length; i++)
            {
                deviceTime[i] += part._deviceTime[i];
                deviceChords[i] += part._deviceChords[i];
            }
        }

        return new Shares(quarters, count, outside, outsideCount, outsideHome, outsideHomeCount, deviceTime, deviceChords);
    }

    private Fraction Of(Fraction time) => Quarters.Sign == 0 ? Fraction.Zero : time / Quarters;
}
