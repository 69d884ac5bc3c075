using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public sealed class ShortTonicisationsTests
{
    [Fact]
    public void Two_chords_in_a_near_key_are_an_applied_chord_and_its_target() =>
        Assert.Equal(["I", "V", "V7/vi", "vi", "ii6", "V"], Fold("C:I", "C:V", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void Three_chords_stay_in_their_own_key() =>
        Assert.Equal(["I", "V", "iio6", "V7", "i", "ii6", "V"], Fold("C:I", "C:V", "A:iio6", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void In_a_long_movement_three_chords_are_still_a_short_stay()
    {
        // 6 of 304 quarter notes.
        string[] home = [.. Enumerable.Repeat<string[]>(["C:I", "C:V"], 37).SelectMany(c => c)];
        Assert.Equal(["viio6", "V7/vi", "vi"], Fold([.. home, "A:iio6", "A:V7", "A:i", .. home, "C:I"]).Skip(home.Length).Take(3));
    }

    [Fact]
    public void A_move_that_does_not_come_back_stays() =>
        Assert.Equal(["I", "V", "V7", "i"], Fold("C:I", "C:V", "A:V7", "A:i"));

    // Keys by their tonic: C is C major, A is A minor. Half notes.
    private static IEnumerable<string> Fold(params string[] chords)
    {
        var readings = chords.Select((text, i) =>
        {
            var key = Key.Parse(text[0] == 'C' ? "C major" : "A minor");
            return new ChordReading(2 * i, 2, key, Numeral.Parse(text[2..]), 1, []);
        });
        return Refining.By(new ShortTonicisations(), readings).Select(c => c.Numeral!.ToString());
    }
}
