using ScoreLens.Notation;
using ScoreLens.Output.Reduction;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reduction;

public sealed class WrittenRhythmTests
{
    // How a metre groups its beats: common practice of engraving; no note hides a stronger place than its own.
    [Theory]
    [InlineData("4/4", "0", "4", "whole")]
    [InlineData("4/4", "0", "3", "half.")]
    [InlineData("4/4", "1", "4", "quarter half")]
    [InlineData("4/4", "1", "3", "quarter quarter")]
    [InlineData("4/4", "0.5", "1.5", "eighth eighth")]
    [InlineData("3/4", "0", "3", "half.")]
    [InlineData("3/4", "1", "3", "half")]
    [InlineData("6/8", "0", "3", "half.")]
    [InlineData("6/8", "1", "3", "eighth quarter.")]
    [InlineData("5/4", "0", "5", "whole quarter")]
    public void A_span_is_written_with_few_values_that_show_the_beat(string time, string start, string end, string expected) =>
        Assert.Equal(expected, Written(time, start, end));

    [Theory]
    [InlineData("4/4", "0", "1/3", "eighth(3:2)[")]
    [InlineData("4/4", "1/3", "2", "quarter(3:2)] quarter")]
    [InlineData("4/4", "0", "4/3", "quarter eighth(3:2)[")]
    [InlineData("4/4", "0", "2/5", "eighth(5:4)[")]
    [InlineData("4/4", "1/5", "1", "quarter(5:4)]")]
    public void Spans_that_end_inside_a_beat_fill_it_with_a_tuplet(string time, string start, string end, string expected) =>
        Assert.Equal(expected, Written(time, start, end));

    private static string Written(string time, string start, string end)
    {
        var parts = time.Split('/').Select(p => int.Parse(p, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        var metre = new TimeSignature(parts[0], parts[1]);
        var measure = new Measure(0, "1", 0, metre.Length, metre, 0);
        var (from, to) = (Fraction.Parse(start), Fraction.Parse(end));
        var values = new WrittenRhythm(measure, [from, to]).Values(from, to);
        Assert.Equal(to - from, values.Aggregate(Fraction.Zero, (sum, v) => sum + v.Duration));
        return string.Join(' ', values.Select(v =>
            v.Type + new string('.', v.Dots) + (v.Tuplet is { } t ? $"({t.Actual}:{t.Normal})" : "") + (v.StartsTuplet ? "[" : "")
                + (v.EndsTuplet ? "]" : "")));
    }
}
