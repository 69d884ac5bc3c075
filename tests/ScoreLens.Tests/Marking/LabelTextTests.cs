using ScoreLens.Marking.Labels;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>
/// The ways of writing numerals are those of common practice in English-speaking, British
/// (inversion letters) and German teaching; no single source lists them.
/// </summary>
public sealed class LabelTextTests
{
    private static readonly Key CMajor = Key.Parse("C major");

    [Theory]
    [InlineData("V65/V", "V65/V")]
    [InlineData("V⁶₅/V", "V65/V")]
    [InlineData("V6/5/V", "V65/V")]
    [InlineData("V 6 5 / V", "V65/V")]
    [InlineData("V6\n5/V", "V65/V")]
    [InlineData("V^6_5/V", "V65/V")]
    [InlineData("V6,5 of V", "V65/V")]
    [InlineData("V(6/5)/V", "V65/V")]
    [InlineData("V65→V", "V65/V")]
    [InlineData("vii°7", "viio7")]
    [InlineData("viiº⁷", "viio7")]
    [InlineData("vii07", "viio7")]
    [InlineData("viidim7", "viio7")]
    [InlineData("viiø7", "viiø7")]
    [InlineData("vii∅7", "viiø7")]
    [InlineData("vii/o7", "viiø7")]
    [InlineData("iim7b5", "iiø7")]
    [InlineData("vii°/V", "viio/V")]
    [InlineData("viio7/ii", "viio7/ii")]
    [InlineData("♭VI", "bVI")]
    [InlineData("bVI", "bVI")]
    [InlineData("♭ VI", "bVI")]
    [InlineData("N6", "N6")]
    [InlineData("N", "N6")]
    [InlineData("Neap6", "N6")]
    [InlineData("bII6", "N6")]
    [InlineData("♭II⁶", "N6")]
    [InlineData("It+6", "It6")]
    [InlineData("It6", "It6")]
    [InlineData("It.6", "It6")]
    [InlineData("Ger6", "Ger65")]
    [InlineData("Ger65", "Ger65")]
    [InlineData("Ger+6", "Ger65")]
    [InlineData("Gr+6/5", "Ger65")]
    [InlineData("Fr4/3", "Fr43")]
    [InlineData("Fr+6", "Fr43")]
    [InlineData("cad64", "Cad64")]
    [InlineData("Cad6/4", "Cad64")]
    [InlineData("Cad.6-4", "Cad64")]
    [InlineData("K64", "Cad64")]
    [InlineData("I64", "I64")]
    [InlineData("I⁶₄", "I64")]
    [InlineData("Ic", "I64")]
    [InlineData("Ib", "I6")]
    [InlineData("V7d", "V42")]
    [InlineData("V7b", "V65")]
    [InlineData("viib", "vii6")]
    [InlineData("IVM7", "IVmaj7")]
    [InlineData("IVΔ7", "IVmaj7")]
    [InlineData("ii-7", "ii7")]
    [InlineData("IIm7", "ii7")]
    [InlineData("III+", "III+")]
    [InlineData("V2", "V42")]
    [InlineData("V4-3", "V")]
    [InlineData("V9-8", "V")]
    [InlineData("I5-6", "I")]
    [InlineData("V7/V/ii", "V7/V/ii")]
    [InlineData("V7/♭II", "V7/bII")]
    [InlineData("CT°7", "CTo7")]
    [InlineData("Ⅴ7", "V7")]
    [InlineData("[V7]", "V7")]
    [InlineData("(V7)/ii", "V7/ii")]
    [InlineData("V#", "V")]
    [InlineData("V#3", "V")]
    [InlineData("V7b9", "V7")]
    public void A_usual_way_of_writing_is_read(string written, string plain)
    {
        var content = LabelText.Read(written);

        Assert.NotNull(content);
        var meanings = content.Chords[0].Numeral!.In(CMajor);
        Assert.Contains(Numeral.Parse(plain), meanings);
    }

    [Theory]
    [InlineData("V69")]
    [InlineData("hello")]
    [InlineData("IIII")]
    [InlineData("VIIII")]
    [InlineData("Iv")]
    [InlineData("V7/V7")]
    [InlineData("V7//V")]
    [InlineData("V/2")]
    [InlineData("it")]
    [InlineData("fr")]
    [InlineData("D7")]
    [InlineData("T")]
    [InlineData("Am")]
    [InlineData("viv")]
    [InlineData("ivory")]
    [InlineData("I'm")]
    [InlineData("rit.")]
    [InlineData("V88")]
    [InlineData("?")]
    public void What_is_not_understood_whole_is_not_read(string written) => Assert.Null(LabelText.Read(written));

    [Theory]
    [InlineData("V6-5/4-3", "Cad64", "V")]
    [InlineData("V⁶⁻⁵/₄₋₃", "Cad64", "V")]
    [InlineData("V64-53", "Cad64", "V")]
    [InlineData("V6/4-5/3", "Cad64", "V")]
    [InlineData("V8-7/6-5/4-3", "Cad64", "V7")]
    [InlineData("V6-5 4-3", "Cad64", "V")]
    [InlineData("V(6-5)(4-3)", "Cad64", "V")]
    public void Figures_that_move_over_the_dominant_say_the_cadential_six_four_and_what_follows(string written, string first, string then)
    {
        var content = LabelText.Read(written);

        Assert.NotNull(content);
        Assert.Contains(Numeral.Parse(first), content.Chords[0].Numeral!.In(CMajor));
        Assert.Contains(Numeral.Parse(then), content.Chords[0].Then!.In(CMajor));
    }

    [Theory]
    [InlineData("G:", "G major", null)]
    [InlineData("g:", "G minor", null)]
    [InlineData("G major:", "G major", null)]
    [InlineData("G major", "G major", null)]
    [InlineData("g minor", "G minor", null)]
    [InlineData("Gm:", "G minor", null)]
    [InlineData("B♭:", "Bb major", null)]
    [InlineData("bb:", "Bb minor", null)]
    [InlineData("b:", "B minor", null)]
    [InlineData("E-flat major:", "Eb major", null)]
    [InlineData("F# min.:", "F# minor", null)]
    [InlineData("Es-Dur:", "Eb major", null)]
    [InlineData("As-Dur", "Ab major", null)]
    [InlineData("c-Moll:", "C minor", null)]
    [InlineData("B-Dur", "Bb major", null)]
    [InlineData("h-Moll:", "B minor", null)]
    [InlineData("fis-Moll:", "F# minor", null)]
    [InlineData("(G:)", "G major", null)]
    [InlineData("G: V65", "G major", "V65")]
    [InlineData("a:i", "A minor", "i")]
    [InlineData("G:V7/V", "G major", "V7/V")]
    public void A_key_mark_is_read(string written, string key, string? numeral)
    {
        var content = LabelText.Read(written);

        Assert.NotNull(content);
        Assert.Equal(Key.Parse(key), content.Chords[0].Key);
        Assert.Equal(numeral, content.Chords[0].Numeral?.ToString());
    }

    [Theory]
    [InlineData("G")]
    [InlineData("Am")]
    [InlineData("a")]
    [InlineData("be")]
    [InlineData("Es")]
    [InlineData("as")]
    [InlineData("A: solo")]
    public void A_word_or_a_chord_symbol_is_not_taken_for_a_key(string written) => Assert.Null(LabelText.Read(written));

    [Fact]
    public void A_pivot_is_read_in_both_keys()
    {
        var content = LabelText.Read("vi = G: ii");

        Assert.NotNull(content);
        Assert.Equal([null, Key.Parse("G major")], content.Chords.Select(c => c.Key));
        Assert.Equal(["vi", "ii"], content.Chords.Select(c => c.Numeral!.ToString()));
    }

    [Fact]
    public void A_bare_seventh_is_read_both_by_the_scale_and_as_a_minor_seventh()
    {
        var meanings = LabelText.Read("IV7")!.Chords[0].Numeral!.In(CMajor);

        Assert.Equal(["IVmaj7", "IV7"], meanings.Select(m => m.ToString()));
    }

    [Fact]
    public void A_natural_sign_is_read_against_the_key()
    {
        var meanings = LabelText.Read("♮VII")!.Chords[0].Numeral!.In(Key.Parse("C minor"));

        Assert.Equal(Tone.Parse("B"), meanings[0].Root(Key.Parse("C minor")));
    }
}
