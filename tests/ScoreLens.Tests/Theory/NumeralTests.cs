using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

public sealed class NumeralTests
{
    // Spelled tones of every device, root first (augmented sixths from the flat sixth up), then the bass. From the chapters on
    // applied chords, mixture, the Neapolitan, augmented sixths and chromatic mediants of Kostka & Payne, Tonal Harmony, and
    // Aldwell & Schachter, Harmony and Voice Leading, by their definitions; the keys are chosen here and spelled by hand.
    [Theory]
    //// secondary dominants
    [InlineData("C major", "V7/V", "D F# A C", "D")]
    [InlineData("Eb major", "V65/V", "F A C Eb", "A")]
    [InlineData("A major", "V43/ii", "F# A# C# E", "C#")]
    [InlineData("D major", "V42/IV", "D F# A C", "C")]
    [InlineData("Bb major", "V/vi", "D F# A", "D")]
    [InlineData("F major", "V7/iii", "E G# B D", "E")]
    [InlineData("A minor", "V7/V", "B D# F# A", "B")]
    [InlineData("F# minor", "V7/V", "G# B# D# F#", "G#")]
    [InlineData("C minor", "V7/III", "Bb D F Ab", "Bb")]
    [InlineData("E minor", "V65/iv", "E G# B D", "G#")]
    [InlineData("G minor", "V7/VI", "Bb D F Ab", "Bb")]
    [InlineData("D minor", "V7/VII", "G B D F", "G")]
    [InlineData("C major", "V9/V", "D F# A C", "D")]
    [InlineData("C major", "V7/V/V", "A C# E G", "A")]
    //// secondary leading-tone chords
    [InlineData("C major", "viio7/V", "F# A C Eb", "F#")]
    [InlineData("G major", "viiø7/V", "C# E G B", "C#")]
    [InlineData("Bb major", "viio65/ii", "B D F Ab", "D")]
    [InlineData("A minor", "viio7/V", "D# F# A C", "D#")]
    [InlineData("C minor", "viio43/iv", "E G Bb Db", "Bb")]
    [InlineData("F major", "viio6/vi", "C# E G", "E")]
    //// modal mixture in major
    [InlineData("C major", "i", "C Eb G", "C")]
    [InlineData("C major", "iio6", "D F Ab", "F")]
    [InlineData("D major", "iiø65", "E G Bb D", "G")]
    [InlineData("A major", "bIII", "C E G", "C")]
    [InlineData("E major", "iv", "A C E", "A")]
    [InlineData("F major", "v", "C Eb G", "C")]
    [InlineData("C major", "bVI", "Ab C Eb", "Ab")]
    [InlineData("B major", "bVI6", "G B D", "B")]
    [InlineData("G major", "bVII", "F A C", "F")]
    [InlineData("Eb major", "viio7", "D F Ab Cb", "D")]
    //// and in minor
    [InlineData("A minor", "I", "A C# E", "A")]
    [InlineData("C# minor", "I", "C# E# G#", "C#")]
    [InlineData("G minor", "IV", "C E G", "C")]
    [InlineData("D minor", "ii", "E G B", "E")]
    //// the Neapolitan
    [InlineData("C major", "N6", "Db F Ab", "F")]
    [InlineData("A minor", "N6", "Bb D F", "D")]
    [InlineData("F# minor", "N6", "G B D", "B")]
    [InlineData("Bb minor", "N6", "Cb Eb Gb", "Eb")]
    [InlineData("E minor", "bII", "F A C", "F")]
    //// augmented sixths
    [InlineData("C major", "It6", "Ab C F#", "Ab")]
    [InlineData("A minor", "It6", "F A D#", "F")]
    [InlineData("E minor", "Fr43", "C E F# A#", "C")]
    [InlineData("C minor", "Fr43", "Ab C D F#", "Ab")]
    [InlineData("G minor", "Ger65", "Eb G Bb C#", "Eb")]
    [InlineData("D major", "Ger65", "Bb D F G#", "Bb")]
    [InlineData("F# minor", "Ger65", "D F# A B#", "D")]
    [InlineData("C major", "Ger65/ii", "Bb D F G#", "Bb")]
    [InlineData("C major", "Ger42", "Ab C Eb F#", "F#")]
    //// tritone substitutes
    [InlineData("C major", "bII7", "Db F Ab Cb", "Db")]
    [InlineData("F major", "bII7", "Gb Bb Db Fb", "Gb")]
    [InlineData("C major", "bII7/V", "Ab C Eb Gb", "Ab")]
    [InlineData("A minor", "bII7", "Bb D F Ab", "Bb")]
    //// mediants
    [InlineData("C major", "III", "E G# B", "E")]
    [InlineData("C major", "VI", "A C# E", "A")]
    [InlineData("C major", "biii", "Eb Gb Bb", "Eb")]
    [InlineData("C major", "bvi", "Ab Cb Eb", "Ab")]
    [InlineData("D major", "bIII", "F A C", "F")]
    //// altered dominants
    [InlineData("C major", "V+", "G B D#", "G")]
    [InlineData("A minor", "V+7", "E G# B# D", "E")]
    //// the cadential six-four
    [InlineData("Ab major", "Cad64", "Ab C Eb", "Eb")]
    [InlineData("C minor", "Cad64", "C Eb G", "G")]
    public void A_device_is_spelled_as_the_handbooks_spell_it(string keyText, string text, string tones, string bass)
    {
        var key = Key.Parse(keyText);
        Assert.True(Numeral.TryParse(text, key.Mode, out var numeral));
        Assert.Equal(tones, string.Join(' ', numeral.Tones(key)));
        Assert.Equal(Tone.Parse(bass), numeral.Bass(key));
    }

    [Fact]
    public void A_common_tone_diminished_seventh_sounds_on_the_tonic_with_the_raised_second_and_fourth()
    {
        // Kostka & Payne, Tonal Harmony, the chapter on further elements: ct°7 of C is D# F# A C by sound.
        var tones = Numeral.CommonToneDiminished().Tones(Key.Parse("C major")).Select(t => t.PitchClass).Order();
        Assert.Equal("C D# F# A".Split(' ').Select(t => Tone.Parse(t).PitchClass).Order(), tones);
    }

    // Figured-bass figures, any handbook: none, 6, 64 for triads; 7, 65, 43, 42 for seventh chords.
    [Theory]
    [InlineData("IV", "F A C", "F A C")]
    [InlineData("ii7", "D F A C", "D F A C")]
    [InlineData("V7", "G B D F", "G B D F")]
    [InlineData("viiø7", "B D F A", "B D F A")]
    [InlineData("Imaj7", "C E G B", "C E G B")]
    public void Figures_say_which_member_is_in_the_bass(string root, string tones, string basses)
    {
        var key = Key.Parse("C major");
        var seventh = root.EndsWith('7');
        string[] figures = seventh ? ["7", "65", "43", "42"] : ["", "6", "64"];
        foreach (var (figure, bass) in figures.Zip(basses.Split(' ')))
        {
            var numeral = Numeral.Parse(root.TrimEnd('7') + figure);
            Assert.Equal(tones, string.Join(' ', numeral.Tones(key)));
            Assert.Equal(bass, numeral.Bass(key).ToString());
        }
    }

    [Theory]
    [InlineData("V2", "V42")]
    [InlineData("V4/2", "V42")]
    [InlineData("V6/5/V", "V65/V")]
    [InlineData("V6/4", "V64")]
    [InlineData("vii°⁷", "viio7")]
    [InlineData("♭VI", "bVI")]
    [InlineData("V⁶₅/V", "V65/V")]
    [InlineData("ii/o65", "iiø65")]
    [InlineData("ii%7", "iiø7")]
    [InlineData("I53", "I")]
    [InlineData("V63", "V6")]
    [InlineData("bII6", "N6")]
    [InlineData("N", "N6")]
    [InlineData("It", "It6")]
    [InlineData("Ger", "Ger65")]
    [InlineData("Fr6", "Fr43")]
    [InlineData("V[no3]", "V")]
    public void Other_ways_of_writing_a_numeral_are_read(string written, string plain) =>
        Assert.Equal(plain, Numeral.Parse(written).ToString());

    [Theory]
    [InlineData("V65/V", "V⁶₅/V")]
    [InlineData("viio7/ii", "vii°⁷/ii")]
    [InlineData("bVI", "♭VI")]
    [InlineData("iiø43", "iiø⁴₃")]
    [InlineData("V7/bII", "V⁷/♭II")]
    [InlineData("Cad64", "Cad⁶₄")]
    [InlineData("V9", "V⁹")]
    [InlineData("V13", "V¹³")]
    public void The_score_shows_raised_figures_and_signs(string plain, string display) =>
        Assert.Equal(display, Numeral.Parse(plain).ToDisplayString());

    [Theory]
    [InlineData("IV7", "C major", "F A C Eb", "F A C E")]
    [InlineData("I7", "C major", "C E G Bb", "C E G B")]
    [InlineData("V7", "C major", "G B D F", "G B D F")]
    [InlineData("VI7", "A minor", "F A C Eb", "F A C E")]
    [InlineData("vii7", "C major", "B D F# A", "B D F A")]
    public void A_bare_seventh_is_minor_in_our_tables_and_the_scales_own_by_the_classical_habit(string text, string keyText,
        string explicitly, string byScale)
    {
        var key = Key.Parse(keyText);
        Assert.Equal(explicitly, string.Join(' ', Numeral.Parse(text).Tones(key)));
        Assert.True(Numeral.TryParseByScale(text, key.Mode, out var classical));
        Assert.Equal(byScale, string.Join(' ', classical.Tones(key)));
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData(null)]
    [InlineData("VIII")]
    [InlineData("H7")]
    [InlineData("/V")]
    [InlineData("V7/")]
    [InlineData("V7/X")]
    [InlineData("V7/It6")]
    [InlineData("C major")]
    [InlineData("bbbVI")]
    [InlineData("I42I")]
    [InlineData("V12345")]
    public void What_is_no_numeral_is_refused(string? text)
    {
        Assert.False(Numeral.TryParse(text, null, out _));
        Assert.False(Numeral.TryParseByScale(text, Mode.Minor, out _));
    }

    [Fact]
    public void A_chord_has_no_member_beyond_its_quality()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Numeral(1, ChordQuality.Major, inversion: 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Numeral(8, ChordQuality.Major));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Numeral(5, ChordQuality.Major, extension: 9));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Numeral(4, ChordQuality.GermanSixth));
    }

    [Theory]
    [InlineData("bVI", Mode.Minor, "VI")]
    [InlineData("bVII7", Mode.Minor, "VII7")]
    [InlineData("bVI", Mode.Major, "bVI")]
    [InlineData("#viio7", Mode.Minor, "viio7")]
    public void A_numeral_takes_the_shortest_accidental_that_its_mode_needs(string text, Mode mode, string shortest) =>
        Assert.Equal(shortest, Numeral.Parse(text).Normalised(mode).ToString());
}
