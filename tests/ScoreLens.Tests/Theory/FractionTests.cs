using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

public sealed class FractionTests
{
    [Theory]
    [InlineData(4, 1, "4")]
    [InlineData(9, 2, "4.5")]
    [InlineData(-1, 8, "-0.125")]
    [InlineData(13, 3, "13/3")]
    [InlineData(1, 1024, "1/1024")]
    [InlineData(6, 4, "1.5")]
    public void A_time_is_written_as_an_integer_an_exact_decimal_or_a_fraction(long top, long bottom, string text) =>
        Assert.Equal(text, new Fraction(top, bottom).ToString());

    [Theory]
    [InlineData("1/0")]
    [InlineData("x")]
    [InlineData("1/2/3")]
    [InlineData("1e3")]
    [InlineData("")]
    [InlineData("9223372036854775808")]
    [InlineData("-9223372036854775808/-1")]
    public void What_is_no_number_is_refused(string text) => Assert.False(Fraction.TryParse(text, null, out _));

    [Fact]
    public void Arithmetic_beyond_its_range_says_so_instead_of_being_wrong()
    {
        var large = new Fraction(long.MaxValue);
        Assert.Throws<OverflowException>(() => large + 1);
        Assert.Throws<OverflowException>(() => large * 2);
        Assert.Throws<DivideByZeroException>(() => new Fraction(1, 0));
    }
}
