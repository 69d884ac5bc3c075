using ScoreLens.Devices;
using ScoreLens.TestKit.Devices;
using Xunit;

namespace ScoreLens.Tests.Devices;

/// <summary>A share of the handbook battery with the handbook's numerals given; the benchmark <c>battery</c> runs all of it.</summary>
public sealed class BatteryTests
{
    [Fact]
    public void With_the_handbooks_numerals_97_in_100_devices_are_right_and_99_in_100_diatonic_chords_stay_untagged()
    {
        // What docs/devices.md promises.
        var answers = Battery.Run(wholePipeline: false, every: 67).ToArray();
        var devices = answers.Where(a => a.Truth.Device is not null).ToArray();
        var diatonic = answers.Where(a => a.Truth.Device is null).ToArray();
        Assert.True(devices.Count(a => a.IsRight) >= 0.97 * devices.Length, Wrong(devices));
        Assert.True(diatonic.Count(a => a.IsRight) >= 0.99 * diatonic.Length, Wrong(diatonic));
    }

    [Fact]
    public void The_battery_has_every_device()
    {
        var devices = ScoreLens.Training.Progressions.Handbook.All.SelectMany(p => p.In(Battery.Settings(p).First().Home))
            .Select(c => c.Device).ToHashSet();
        Assert.All(DeviceNames.All, d => Assert.Contains(d, devices));
    }

    private static string Wrong(IEnumerable<BatteryAnswer> answers) => string.Join(
        Environment.NewLine,
        answers.Where(a => !a.IsRight).Select(a =>
            $"{a.Progression.Name}, {a.Setting.Home}, {a.Truth.Numeral}: {a.Found?.Device?.Name() ?? "none"}"));
}
