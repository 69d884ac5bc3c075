using ScoreLens.Devices;
using Xunit;

namespace ScoreLens.Tests.Devices;

public sealed class DeviceManualTests
{
    [Fact]
    public void The_manual_has_a_section_for_each_device_in_the_order_in_which_they_are_tried()
    {
        var known = DeviceNames.All.Select(d => d.Name()).ToArray();
        var sections = File.ReadLines(Path.Combine(Places.Root, "docs", "devices.md"))
            .Where(l => l.StartsWith("## ", StringComparison.Ordinal)).Select(l => l[3..]).Where(s => char.IsAsciiLetterLower(s[0]));
        Assert.Equal(known, sections);
    }

    [Fact]
    public void Every_device_has_a_name_that_reads_back()
    {
        foreach (var device in DeviceNames.All)
        {
            Assert.True(DeviceNames.TryParse(device.Name(), out var read));
            Assert.Equal(device, read);
        }
    }
}
