using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

public sealed class ChordNameTests
{
    // Lead-sheet symbols by common practice, as docs/tables.md shows them.
    [Theory]
    [InlineData("C major", "iiø42", "Dm7b5/C")]
    [InlineData("C major", "V7", "G7")]
    [InlineData("C major", "V65/V", "D7/F#")]
    [InlineData("Bb major", "Imaj7", "Bbmaj7")]
    [InlineData("A minor", "i", "Am")]
    [InlineData("A minor", "viio7", "G#dim7")]
    [InlineData("A minor", "III+6", "Caug/E")]
    [InlineData("C minor", "Ger65", "Ab7")]
    [InlineData("C minor", "It6", "Ab7")]
    [InlineData("C minor", "Fr43", "Ab7b5")]
    [InlineData("C minor", "Ger42", "Ab7/F#")]
    [InlineData("C major", "N6", "Db/F")]
    [InlineData("C major", "Cad64", "C/G")]
    [InlineData("C major", "V9", "G9")]
    [InlineData("C major", "ii9", "Dm9")]
    [InlineData("C major", "Imaj9", "Cmaj9")]
    [InlineData("C major", "V+7", "G7#5")]
    [InlineData("A minor", "imaj7", "AmMaj7")]
    [InlineData("C major", "V7/bII", "Ab7")]
    public void A_numeral_in_a_key_has_its_chord_symbol(string keyText, string numeral, string symbol) =>
        Assert.Equal(symbol, ChordName.Of(Key.Parse(keyText), Numeral.Parse(numeral)).ToString());

    [Theory]
    [InlineData("")]
    [InlineData("H7")]
    [InlineData("c")]
    [InlineData("Cfoo")]
    [InlineData("C/")]
    [InlineData("/C")]
    [InlineData("C7/X")]
    public void What_is_no_chord_symbol_is_refused(string text) => Assert.False(ChordName.TryParse(text, null, out _));
}
