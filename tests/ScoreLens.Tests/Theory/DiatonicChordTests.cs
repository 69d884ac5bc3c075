using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

/// <summary>
/// The chords that each scale holds, from the tables of diatonic triads and seventh chords in Kostka &amp; Payne, Tonal Harmony
/// (major and the three forms of minor), written out here in C major and A minor. Every other chord is outside.
/// </summary>
public sealed class DiatonicChordTests
{
    private const string Major = "C Dm Em F G Am Bdim Cmaj7 Dm7 Em7 Fmaj7 G7 Am7 Bm7b5";
    private const string Natural = "Am Bdim C Dm Em F G Am7 Bm7b5 Cmaj7 Dm7 Em7 Fmaj7 G7";
    private const string Harmonic = "Am Bdim Caug Dm E F G#dim AmMaj7 Bm7b5 Cmaj7#5 Dm7 E7 Fmaj7 G#dim7";
    private const string Melodic = "Am Bm Caug D E F#dim G#dim AmMaj7 Bm7 Cmaj7#5 D7 E7 F#m7b5 G#m7b5";

    [Theory]
    [InlineData("C major", Major)]
    [InlineData("A minor", Natural + " " + Harmonic + " " + Melodic)]
    public void Exactly_the_chords_of_the_scale_are_diatonic(string keyText, string chords)
    {
        var key = Key.Parse(keyText);
        var expected = chords.Split(' ').Distinct().Order(StringComparer.Ordinal);
        var found =
            from fifths in Enumerable.Range(-10, 21)
            from quality in Enum.GetValues<ChordQuality>()
            where !quality.IsAugmentedSixth()
            let root = key.Tonic + fifths
            where Diatonic.Contains(key, quality.Members().ToArray().Select(f => root + f).ToArray())
            select new ChordName(root, quality).ToString();
        Assert.Equal(expected, found.Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("C major", "V7/V")]
    [InlineData("C major", "V/ii")]
    [InlineData("C major", "Ger65")]
    [InlineData("A minor", "It6")]
    [InlineData("A minor", "N6")]
    [InlineData("C major", "CTo7")]
    [InlineData("A minor", "V7/III")]
    public void Applied_chords_and_chromatic_sixths_are_never_diatonic(string keyText, string numeral) =>
        Assert.False(Diatonic.Contains(Key.Parse(keyText), Numeral.Parse(numeral)));

    [Theory]
    [InlineData("C major")]
    [InlineData("C minor")]
    public void The_cadential_six_four_is_diatonic(string keyText)
    {
        var key = Key.Parse(keyText);
        Assert.True(Diatonic.Contains(key, Numeral.CadentialSixFour(key.Mode)));
    }
}
