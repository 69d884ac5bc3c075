using ScoreLens.Keys;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Keys;

/// <summary>
/// When a key counts as new. The progressions are the common ones of harmony handbooks' chapters on tonicisation and modulation (Aldwell
/// and Schachter, Harmony and Voice Leading; Kostka and Payne, Tonal Harmony; from memory).
/// </summary>
public sealed class TonicisationsTests
{
    [Fact]
    public void Two_chords_in_a_near_key_are_an_applied_chord_and_its_target() =>
        Assert.Equal(["I", "V", "V7/vi", "vi", "ii6", "V"], Decide(KeyRule.Confirm, "C:I", "C:V", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void Where_every_touched_key_counts_they_stay() =>
        Assert.Equal(["I", "V", "V7", "i", "ii6", "V"], Decide(KeyRule.Touch, "C:I", "C:V", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void Three_chords_stay_in_their_own_key() =>
        Assert.Equal(["I", "V", "iio6", "V7", "i", "ii6", "V"],
            Decide(KeyRule.Confirm, "C:I", "C:V", "A:iio6", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void Where_only_whole_phrases_count_three_chords_go_back() =>
        Assert.Equal(["I", "V", "viio6", "V7/vi", "vi", "ii6", "V"],
            Decide(KeyRule.Phrase, "C:I", "C:V", "A:iio6", "A:V7", "A:i", "C:ii6", "C:V"));

    [Fact]
    public void In_a_long_movement_three_chords_are_still_a_short_stay()
    {
        // 6 of 384 quarter notes.
        string[] home = [.. Enumerable.Repeat<string[]>(["C:I", "C:V"], 47).SelectMany(c => c)];
        Assert.Equal(["viio6", "V7/vi", "vi"],
            Decide(KeyRule.Confirm, [.. home, "A:iio6", "A:V7", "A:i", .. home, "C:I"]).Skip(home.Length).Take(3));
    }

    [Fact]
    public void A_move_that_does_not_come_back_stays() =>
        Assert.Equal(["I", "V", "V7", "i"], Decide(KeyRule.Confirm, "C:I", "C:V", "A:V7", "A:i"));

    [Fact]
    public void A_key_in_which_a_phrase_closes_stays()
    {
        // The phrase ends with the fourth chord, by an authentic cadence in A minor.
        Phrase[] phrases = [new(1, 0, 8, Key.Parse("A minor"), Cadence.PerfectAuthentic),
            new(2, 8, 16, Key.Parse("C major"), Cadence.Half)];
        string[] chords = ["C:I", "C:V", "A:V7", "A:i", "C:ii6", "C:V"];
        Assert.Equal(["I", "V", "V7", "i", "ii6", "V"], Decide(KeyRule.Confirm, phrases, chords));
        Assert.Equal(["I", "V", "V7", "i", "ii6", "V"], Decide(KeyRule.Phrase, phrases, chords));
    }

    [Fact]
    public void A_key_that_holds_for_less_than_half_a_phrase_goes_back_even_where_it_closes_one()
    {
        Phrase[] phrases = [new(1, 0, 12, Key.Parse("A minor"), Cadence.PerfectAuthentic),
            new(2, 12, 24, Key.Parse("C major"), Cadence.Half)];
        Assert.Equal(["I", "IV", "ii6", "V", "V7/vi", "vi", "ii6", "V"],
            Decide(KeyRule.Phrase, phrases, "C:I", "C:IV", "C:ii6", "C:V", "A:V7", "A:i", "C:ii6", "C:V"));
    }

    // Keys by their tonic: C is C major, A is A minor. Half notes, one phrase.
    private static IEnumerable<string> Decide(KeyRule rule, params string[] chords) =>
        Decide(rule, [new Phrase(1, 0, 2 * chords.Length, Key.Parse("C major"), Cadence.None)], chords);

    private static IEnumerable<string> Decide(KeyRule rule, Phrase[] phrases, params string[] chords)
    {
        ChordReading[] readings =
        [
            .. chords.Select((text, i) =>
            {
                var key = Key.Parse(text[0] == 'C' ? "C major" : "A minor");
                return new ChordReading(2 * i, 2, key, Numeral.Parse(text[2..]), 1, []);
            }),
        ];
        return KeyDecision.Apply(readings, rule, new KeyContext(Key.Parse("C major"), phrases, ReadingSettings.Default)).Select(c =>
            c.Numeral!.ToString());
    }
}
