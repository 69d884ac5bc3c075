using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public sealed class CirclesOfSeventhsTests
{
    // The circle in sevenths as Piston teaches it.
    [Fact]
    public void A_link_of_the_chain_is_no_applied_dominant() =>
        Assert.Equal(["i7", "iv7", "VII7", "IIImaj7", "VImaj7"], Mark("i7", "iv7", "V7/III", "IIImaj7", "VImaj7"));

    [Fact]
    public void Its_inversion_stays() =>
        Assert.Equal(["iv65", "VII42", "IIImaj65"], Mark("iv65", "V42/III", "IIImaj65"));

    [Theory]
    [InlineData("iv", "V7/III", "IIImaj7")]
    [InlineData("iv7", "V7/III", "III")]
    [InlineData("iv7", "V7/VI", "VImaj7")]
    public void A_dominant_that_turns_aside_stays_applied(params string[] chords) => Assert.Equal(chords, Mark(chords));

    private static IEnumerable<string> Mark(params string[] chords) =>
        Refining.By(new CirclesOfSevenths(), chords.Select((text, i) =>
            new ChordReading(i, 1, Key.Parse("A minor"), Numeral.Parse(text), 1, [])))
            .Select(c => c.Numeral!.ToString());
}
