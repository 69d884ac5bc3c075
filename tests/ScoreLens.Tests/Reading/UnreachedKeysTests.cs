using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public sealed class UnreachedKeysTests
{
    // Common practice; the chords are our own.
    [Fact]
    public void Borrowed_chords_stay_in_the_key_around_them() =>
        Assert.Equal(["I", "iv", "bVII", "I"], Fold("C major I", "F minor i", "F minor IV", "C major I"));

    [Fact]
    public void Three_of_them_do_too() =>
        Assert.Equal(["I", "IV", "bIII", "bVII", "I"], Fold("C major I", "F major I", "F major bVII", "F major IV", "C major I"));

    [Theory]
    [InlineData("C major I", "F major V7", "F major I", "C major I")]
    [InlineData("C major I", "A minor i", "A minor iv", "C major I")]
    [InlineData("C major I", "F minor i", "F minor IV", "Eb major I")]
    public void A_key_that_is_reached_or_relative_or_left_for_a_third_stays(params string[] chords) =>
        Assert.Equal(chords.Select(c => c.Split(' ')[2]), Fold(chords));

    private static IEnumerable<string> Fold(params string[] chords) =>
        Refining.By(new UnreachedKeys(), chords.Select(c => c.Split(' '))
            .Select((c, i) => new ChordReading(i, 1, Key.Parse($"{c[0]} {c[1]}"), Numeral.Parse(c[2]), 1, [])))
            .Select(c => c.Numeral!.ToString());
}
