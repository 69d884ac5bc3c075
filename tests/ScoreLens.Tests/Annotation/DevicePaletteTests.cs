using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Output;
using Xunit;

namespace ScoreLens.Tests.Annotation;

public sealed class DevicePaletteTests
{
    // Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE TVCG
    // 15/6, 2009: severity 1.0, on linear RGB. The matrices are from memory; that each row sums to 1 is checked.
    private static readonly Dictionary<string, double[][]> Visions = new()
    {
        ["normal"] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
        ["protan"] = [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
        ["deutan"] = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
        ["tritan"] = [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    };

    public static TheoryData<string> VisionNames => [.. Visions.Keys];

    [Theory]
    [MemberData(nameof(VisionNames))]
    public void Device_colours_stay_apart_from_each_other_and_from_black(string vision)
    {
        Every.Item(Visions[vision], row => Assert.Equal(1, row.Sum(), 1e-5));
        var colours = DeviceNames.All.Select(d => (Name: d.Name(), Lab: Lab(DevicePalette.Of(d).Dark, Visions[vision])))
            .Append((Name: "black", Lab: Lab("#000000", Visions[vision]))).ToArray();
        for (var i = 0; i < colours.Length; i++)
            for (var j = i + 1; j < colours.Length; j++)
                Assert.True(Ciede2000(colours[i].Lab, colours[j].Lab) >= 10, $"{colours[i].Name} and {colours[j].Name} in {vision} vision");
    }

    [Fact]
    public void Device_colours_can_be_read_on_white()
    {
        // WCAG 2.2, contrast ratio of text of ordinary size: 4.5:1.
        Assert.All(DeviceNames.All, d =>
        {
            var rgb = Linear(DevicePalette.Of(d).Dark);
            Assert.True(1.05 / ((0.2126 * rgb[0]) + (0.7152 * rgb[1]) + (0.0722 * rgb[2]) + 0.05) >= 4.5, d.Name());
        });
    }

    [Fact]
    public void Every_device_has_a_label_of_its_own() =>
        Assert.Equal(DeviceNames.All.Count, DeviceNames.All.Select(d => DevicePalette.Of(d).Label).Distinct().Count());

    [Fact]
    public void The_measure_of_distance_gives_the_published_values()
    {
        // Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference Formula", Color Research and Application 30/1, 2005, table 1, pairs 1, 7
        // and 25.
        Assert.Equal(2.0425, Ciede2000((50, 2.6772, -79.7751), (50, 0, -82.7485)), 1e-4);
        Assert.Equal(2.3669, Ciede2000((50, 0, 0), (50, -1, 2)), 1e-4);
        Assert.Equal(1.2644, Ciede2000((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387)), 1e-4);
    }

    private static double[] Linear(string colour) =>
        [.. Enumerable.Range(0, 3).Select(i => int.Parse(colour.AsSpan(1 + (2 * i), 2), NumberStyles.HexNumber,
            CultureInfo.InvariantCulture) / 255.0)
            .Select(v => v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4))];

    // sRGB (IEC 61966-2-1) to CIELAB under D65.
    private static (double L, double A, double B) Lab(string colour, double[][] vision)
    {
        var linear = Linear(colour);
        var seen = vision.Select(row => Math.Clamp(row.Zip(linear, (m, v) => m * v).Sum(), 0, 1)).ToArray();
        var x = F(((0.4124564 * seen[0]) + (0.3575761 * seen[1]) + (0.1804375 * seen[2])) / 0.95047);
        var y = F((0.2126729 * seen[0]) + (0.7151522 * seen[1]) + (0.0721750 * seen[2]));
        var z = F(((0.0193339 * seen[0]) + (0.1191920 * seen[1]) + (0.9503041 * seen[2])) / 1.08883);
        return ((116 * y) - 16, 500 * (x - y), 200 * (y - z));

        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
    }

    private static double Ciede2000((double L, double A, double B) one, (double L, double A, double B) two)
    {
        static double Power7(double c) => Math.Sqrt(Math.Pow(c, 7) / (Math.Pow(c, 7) + Math.Pow(25, 7)));
        static double Cos(double degrees) => Math.Cos(degrees * Math.PI / 180);
        static double Sin(double degrees) => Math.Sin(degrees * Math.PI / 180);
        var g = 0.5 * (1 - Power7((Math.Sqrt((one.A * one.A) + (one.B * one.B)) + Math.Sqrt((two.A * two.A) + (two.B * two.B))) / 2));
        double a1 = one.A * (1 + g), a2 = two.A * (1 + g);
        double c1 = Math.Sqrt((a1 * a1) + (one.B * one.B)), c2 = Math.Sqrt((a2 * a2) + (two.B * two.B));
        double h1 = Hue(a1, one.B), h2 = Hue(a2, two.B);
        var isGrey = c1 * c2 == 0;
        var turn = isGrey ? 0 : h2 - h1 > 180 ? h2 - h1 - 360 : h2 - h1 < -180 ? h2 - h1 + 360 : h2 - h1;
        double dl = two.L - one.L, dc = c2 - c1, dh = 2 * Math.Sqrt(c1 * c2) * Sin(turn / 2);
        double l = (one.L + two.L) / 2, c = (c1 + c2) / 2;
        var h = isGrey ? h1 + h2 : Math.Abs(h1 - h2) <= 180 ? (h1 + h2) / 2 : h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
        var t = 1 - (0.17 * Cos(h - 30)) + (0.24 * Cos(2 * h)) + (0.32 * Cos((3 * h) + 6)) - (0.20 * Cos((4 * h) - 63));
        var sl = 1 + (0.015 * (l - 50) * (l - 50) / Math.Sqrt(20 + ((l - 50) * (l - 50))));
        double sc = 1 + (0.045 * c), sh = 1 + (0.015 * c * t);
        var rt = -2 * Power7(c) * Sin(60 * Math.Exp(-((h - 275) / 25) * ((h - 275) / 25)));
        return Math.Sqrt(Math.Pow(dl / sl, 2) + Math.Pow(dc / sc, 2) + Math.Pow(dh / sh, 2) + (rt * dc / sc * dh / sh));

        static double Hue(double a, double b) => a == 0 && b == 0 ? 0 : ((Math.Atan2(b, a) * 180 / Math.PI) + 360) % 360;
    }
}
