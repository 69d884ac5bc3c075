using ScoreLens.Reading.Model;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>Sums of exponentials against plain loops, for rows that fill whole vectors and rows that do not.</summary>
public class ExponentialsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(36)]
    [InlineData(229)]
    public void Many_at_once_are_what_they_are_one_by_one(int count)
    {
        var values = new Numbers(count).Next(count, 30);
        var top = values.Max();
        var powers = new double[count];
        double[] inPlace = [.. values];

        Assert.Equal(top, Exponentials.Top(values));
        Assert.Equal(top, Exponentials.BelowTop(values, powers));
        Exponentials.InPlace(inPlace);

        for (var i = 0; i < count; i++)
        {
            Assert.Equal(1, powers[i] / Math.Exp((double)values[i] - top), 1e-12);
            Assert.Equal(1, inPlace[i] / Math.Exp(values[i]), 1e-12);
        }

        var sum = Math.Log(values.Sum(v => Math.Exp(v)));
        Assert.Equal(sum, Exponentials.LogSum(values), 1e-5);
        Assert.Equal(sum, Exponentials.LogSum([.. values.Select(v => (double)v), double.NegativeInfinity]), 1e-12);
    }

    [Fact]
    public void What_lies_far_below_or_above_nought_is_summed_without_overflow()
    {
        Assert.Equal(1000 + Math.Log(2), Exponentials.LogSum((float[])[1000, 1000, -1000]), 1e-4);
        Assert.Equal(-1000, Exponentials.LogSum((double[])[-1000, -2000]), 1e-12);
    }
}
