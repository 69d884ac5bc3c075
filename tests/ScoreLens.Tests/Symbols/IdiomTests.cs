using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>
/// Idioms of songs and jazz as players hear them. Sources: Levine, The Jazz Theory Book (1995), and Kostka and Payne, Tonal Harmony, both
/// from memory.
/// </summary>
public sealed class IdiomTests
{
    [Theory]
    // ii–V–I (Levine, "The II-V-I progression").
    [InlineData(0, "Dm7 | G7 | Cmaj7 | %", "ii7, V7, Imaj7")]
    [InlineData(-2, "Cm7b5 | F7b9 | Bbm6 | Cm7 F7 | Bb6", "iiø7, V7, i, ii7, V7, I")]
    // A sixth or a ninth on the tonic is the tonic.
    [InlineData(-3, "Eb6 | Ab6 | Bb9 | Eb69", "I, IV, V9, I")]
    // The turnaround I vi ii V.
    [InlineData(-1, "Fmaj7 Dm7 | Gm7 C7 | Fmaj7 Dm7 | Gm7 C7 | F6", "Imaj7, vi7, ii7, V7, Imaj7, vi7, ii7, V7, I")]
    // The turnaround with applied dominants, III7 VI7 II7 V7.
    [InlineData(0, "Cmaj7 | E7 | A7 | D7 | G7 | C6",
        "Imaj7, V7/vi secondary-dominant, V7/ii secondary-dominant, V7/V secondary-dominant, V7, I")]
    // The tritone substitute of V, and with its ii (Levine, "Tritone substitution").
    [InlineData(0, "Dm7 | Db7 | Cmaj7 | %", "ii7, bII7 tritone-substitute, Imaj7")]
    // The back door: iv7 bVII7 I.
    [InlineData(0, "Cmaj7 | Fm7 | Bb7 | Cmaj7 | Dm7 G7 | C6",
        "Imaj7, iv7 modal-mixture, bVII7 modal-mixture, Imaj7, ii7, V7, I")]
    // Modal interchange.
    [InlineData(2, "D | Gm | D | A7 | D", "I, iv modal-mixture, I, V7, I")]
    // An applied ii–V: the ii and the V of IV.
    [InlineData(-1, "Fmaj7 | Cm7 F7 | Bbmaj7 | Gm7 C7 | F6", "Imaj7, ii7/IV modal-mixture, V7/IV secondary-dominant, IVmaj7, ii7, V7, I")]
    // The diminished chord that passes up to ii, and to V.
    [InlineData(0, "Cmaj7 | C#dim7 | Dm7 | G7 | C6", "Imaj7, viio7/ii secondary-leading-tone, ii7, V7, I")]
    [InlineData(0, "F | F#dim7 | C/G | G7 | C", "IV, viio7/V secondary-leading-tone, Cad64, V7, I")]
    // The auxiliary diminished chord of the tonic.
    [InlineData(0, "C | Cdim7 | C | G7 | C", "I, io7 common-tone-diminished, I, V7, I")]
    // A suspended dominant, and one as a slash chord.
    [InlineData(-1, "F6 | C9sus4 | C9 | F6", "I, V9, V9, I")]
    // The same written as slash chords (Levine, "Sus chords"), before the dominant and before the tonic.
    [InlineData(0, "C6 | Dm7/G | G7 | C6", "I, V9, V7, I")]
    [InlineData(0, "C6 | F/G | C6 | F/G | C", "I, V9, I, V9, I")]
    // A subdominant over the tonic is none.
    [InlineData(0, "C | F/C | C | G7 | C", "I, IV64, I, V7, I")]
    // The substitute with a ii of its own (Levine, "Tritone substitution").
    [InlineData(0, "Dm7 | Abm7 Db7 | Cmaj7 | %", "ii7, bvi7 other-chromatic, bII7 tritone-substitute, Imaj7")]
    // The diminished chord that passes down from iii or I to ii (Levine, "Diminished chords").
    [InlineData(0, "C/E | Ebdim7 | Dm7 | G7 | C6", "I6, biiio7 common-tone-diminished, ii7, V7, I")]
    [InlineData(-1, "Am7 | Abdim7 | Gm7 | C7 | F6", "iii7, biiio7 other-chromatic, ii7, V7, I")]
    // A bass that walks down from the tonic: with the seventh in the bass it is the dominant of IV.
    [InlineData(0, "C | C/Bb | F/A | Fm/Ab | C/G | G7 | C", "I, V/IV secondary-dominant, IV6, iv6 modal-mixture, Cad64, V7, I")]
    // Dominants that slide down by semitones.
    [InlineData(2, "D | C#7 | C7 | B7 | Em7 | A7 | D",
        "I, V7/iii secondary-dominant, bVII7 tritone-substitute, V7/ii secondary-dominant, ii7, V7, I")]
    // An applied dominant that goes deceptively elsewhere (Kostka and Payne, "Deceptive resolutions of secondary functions").
    [InlineData(0, "C | E7 | F | G7 | C", "I, V7/vi secondary-dominant, IV, V7, I")]
    // The turnaround bIII bVI bII7 is in one key (Levine, "Turnarounds").
    [InlineData(-3, "Ebmaj7 | Fm7 Bb7 | Ebmaj7 Gbmaj7 | Bmaj7 E7 | Eb6 | Fm7 Bb7 | Ebmaj7",
        "Imaj7, ii7, V7, Imaj7, bIIImaj7 modal-mixture, bVImaj7 modal-mixture, bII7 tritone-substitute, I, ii7, V7, Imaj7")]
    // A half-diminished seventh before an applied dominant is its ii, not the leading-tone chord of V.
    [InlineData(3, "Amaj7 | Bm7 E7 | Amaj7 | D#m7b5 G#7 | C#m7 | Bm7 E7 | A6",
        "Imaj7, ii7, V7, Imaj7, iiø7/iii other-chromatic, V7/iii secondary-dominant, iii7, ii7, V7, I")]
    public void Charts_are_read_as_players_hear_them(int signature, string chart, string reading) =>
        Assert.Equal(reading, string.Join(", ", Charts.Read(signature, chart)));

    /// <summary>Twelve bars: I7 and IV7 are at home, no dominants of IV or bVII; V7 is the only dominant.</summary>
    [Fact]
    public void Sevenths_on_I_and_IV_of_a_blues_are_no_applied_dominants()
    {
        const string Blues = "Bb7 | Eb7 | Bb7 | % | Eb7 | % | Bb7 | % | F7 | Eb7 | Bb7 | F7 | Bb7";
        Assert.Equal(["Bb major"], Charts.Keys(-2, Blues));
        var read = Charts.Read(-2, Blues);
        Assert.Equal(["I7 other-chromatic", "IV7 other-chromatic", "V7"], read.Distinct());
    }

    /// <summary>Choruses of twelve bars with other chords between (Levine, "Blues changes").</summary>
    [Theory]
    [InlineData(-2, "Bb7 | Eb7 | Bb7 | Fm7 Bb7 | Eb7 | Edim7 | Bb7 | Dm7 G7 | Cm7 | F7 | Bb7 G7 | Cm7 F7")]
    [InlineData(-2, "Bb7 | Eb7 | Bb7 | Bm7 E7 | Eb7 | Ab7 | Dm7 | Dbm7 Gb7 | Cm7 | F7 | Dm7 G7 | Cm7 F7 | Bb7 | Eb7 | Bb7 | E7 | Eb7 | Ab7 "
        + "| Bb7 | G7 | Cm7 | F7 | Bb7 | %")]
    [InlineData(-1, "F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7/C | Am7b5 D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7")]
    public void A_blues_with_substitutes_stays_in_its_key(int signature, string chart) =>
        Assert.Equal([signature == -2 ? "Bb major" : "F major"], Charts.Keys(signature, chart));

    [Fact]
    public void The_ii_before_I7_of_a_blues_that_goes_to_IV_is_the_ii_of_IV() =>
        Assert.Equal("ii7/IV modal-mixture", Charts.Read(-2,
            "Bb7 | Eb7 | Bb7 | Fm7 Bb7 | Eb7 | Edim7 | Bb7 | Dm7 G7 | Cm7 | F7 | Bb7 G7 | Cm7 F7")[3]);

    [Fact]
    public void Where_no_chord_is_played_the_key_goes_on() =>
        Assert.Equal(["A major"], Charts.Keys(3, "Amaj7 | Bm7 E7 | Amaj7 | N.C. | Bm7 E7 | A6 | N.C."));

    [Fact]
    public void In_a_song_the_tonic_with_a_seventh_that_goes_to_IV_is_its_dominant() =>
        Assert.Equal("I, V7/IV secondary-dominant, IV, V7, I", string.Join(", ", Charts.Read(0, "C | C7 | F | G7 | C")));

    [Fact]
    public void A_line_cliche_stays_on_its_root() =>
        Assert.Equal(["i", "imaj7", "i7", "i"], Charts.Read(-3, "Cm | CmMaj7 | Cm7 | Cm6 | Fm | G7 | Cm | %").Take(4));
}
