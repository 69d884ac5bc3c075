using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Experts;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reharmonising;

/// <summary>
/// The table of what experts have at a place. That applied dominants lead to their targets, and which chords prepare the dominant, is what
/// handbooks say (Aldwell and Schachter, Harmony and Voice Leading; Kostka and Payne, Tonal Harmony; from memory): what is learned has to
/// have found it too.
/// </summary>
public sealed class ExpertChoicesTests
{
    [Theory]
    [InlineData("C major")]
    [InlineData("A minor")]
    public void Probabilities_of_the_vocabulary_add_up_to_one(string key)
    {
        var place = Place(key, key.EndsWith("minor", StringComparison.Ordinal) ? "i" : "I", "V", "D5");
        var home = Key.Parse(key);
        var words = ExpertChoices.Default.Vocabulary(home.Mode);
        Assert.True(words.Count > 40);
        Assert.Equal(1, words.DistinctBy(w => ChordClass.Of(home, home, w)).Sum(w => ExpertChoices.Default.At(place).Of(home, w)), 6);
    }

    [Theory]
    [InlineData("C major", "I", "V", "D5", "V7/V", "V7/ii")]
    [InlineData("C major", "I", "ii", "A5", "V7/ii", "V7/V")]
    [InlineData("C major", "I", "vi", "B5", "V7/vi", "V7/IV")]
    [InlineData("C major", "I", "IV", "C5", "V7/IV", "V7/V")]
    [InlineData("C major", "I", "V", "Ab5", "iv", "V7/V")]
    [InlineData("C major", "V", "I", "G5", "V+", "bIII")]
    [InlineData("A minor", "i", "V", "F5", "iv", "V7/iv")]
    [InlineData("A minor", "i", "iv", "E5", "V7/iv", "V7/VI")]
    public void A_chord_that_leads_to_the_next_and_has_the_melody_is_likelier(string key, string before, string after, string melody,
        string likelier, string than)
    {
        var (home, here) = (Key.Parse(key), ExpertChoices.Default.At(Place(key, before, after, melody)));
        Assert.True(here.Of(home, Named(likelier, home)) > here.Of(home, Named(than, home)));
    }

    [Fact]
    public void A_chord_that_experts_have_nowhere_has_no_probability()
    {
        var key = Key.Parse("A minor");
        var at = ExpertChoices.Default.At(Place("A minor", "V", "VI64", "E5"));
        var known = ExpertChoices.Default.Vocabulary(Mode.Minor).Select(n => ChordClass.Of(key, key, n)).ToHashSet();
        Numeral[] numerals = [.. "viio7/VI bVmaj7 #III+ CTo7/bII V7/#iv V7/iv".Split(' ').Select(n => Named(n, key))];
        Assert.Contains(numerals, n => !known.Contains(ChordClass.Of(key, key, n)));
        Assert.All(numerals, n => Assert.Equal(known.Contains(ChordClass.Of(key, key, n)), at.Of(key, n) > 0));
    }

    [Fact]
    public void A_place_is_the_same_in_every_key()
    {
        var (low, high) = (Key.Parse("C major"), Key.Parse("F# major"));
        var (one, other) = (ExpertChoices.Default.At(Place("C major", "I", "V", "D5")),
            ExpertChoices.Default.At(Place("F# major", "I", "V", "G#5")));
        Every.Item(ExpertChoices.Default.Vocabulary(Mode.Major), n => Assert.Equal(one.Of(low, n), other.Of(high, n), 9));
    }

    [Fact]
    public void A_table_that_is_written_is_read_as_it_was()
    {
        using var text = new StringWriter();
        ExpertChoices.Default.Write(text);
        using var again = new StringWriter();
        ExpertChoices.Read(new StringReader(text.ToString())).Write(again);
        Assert.Equal(text.ToString(), again.ToString());
        Assert.True(text.ToString().Length > 10_000);
    }

    [Theory]
    [InlineData(OfferOrder.Best)]
    [InlineData(OfferOrder.Experts)]
    [InlineData(OfferOrder.Smoothness)]
    public void A_list_is_sorted_as_asked_and_its_beginning_does_not_depend_on_its_length(OfferOrder order)
    {
        var reharmoniser = new Reharmoniser(
            SpelledProgression.Analyse("C major", "I C5", "vi C5", "IV F5", "V G5", "I C5", "ii6 D5", "V7 G5", "I C5"), Band.Default);
        var whole = reharmoniser.List(2, order, all: true).Alternatives;
        var few = reharmoniser.List(2, order, 4).Alternatives;
        Assert.Equal(whole.Take(4).Select(a => (a.Rank, a.Numeral)), few.Select(a => (a.Rank, a.Numeral)));
        Assert.Equal(4, few.Count);
        Func<Alternative, double> by = order switch
        {
            OfferOrder.Experts => a => -a.Experts,
            OfferOrder.Smoothness => a => a.Semitones,
            _ => a => -a.Score,
        };
        Assert.Equal(few.Select(by).Order(), few.Select(by));
    }

    [Fact]
    public void What_does_not_go_on_as_expected_is_offered_with_a_word_and_not_in_the_list_of_a_phrase()
    {
        var analysis = SpelledProgression.Analyse("C major", "I C5", "vi C5", "IV C5", "V G5", "I C5", "ii6 D5", "V7 G5", "I C5");
        var reharmoniser = new Reharmoniser(analysis, Band.Default);
        var open = reharmoniser.List(2, all: true).Alternatives.Where(a => a.Resolution == Resolution.Unresolved).ToArray();
        Assert.NotEmpty(open);
        Assert.All(open, a => Assert.Contains("it does not go on as such a chord is expected to", a.Reason, StringComparison.Ordinal));
        Assert.All(reharmoniser.BestOf(analysis.Phrases[0], 8), b => Assert.True(b.Alternative.GoesOn));
    }

    [Fact]
    public void The_plain_chord_behind_a_coloured_one_is_among_the_offers()
    {
        Assert.Contains(SpelledProgression.At("C major", 1, "I C5", "V7/V A5", "V G5", "I C5"), a => a.Numeral.ToString() is "ii" or "ii6");
        Assert.Contains(SpelledProgression.At("C major", 1, "I C5", "iv C5", "V D5", "I C5"), a => a.Numeral.ToString() is "IV" or "IV6");
    }

    private static Numeral Named(string numeral, Key key) => Numeral.TryParse(numeral, key.Mode, out var named) ? named
        : throw new ArgumentException(numeral);

    // A place of two quarter notes on a first beat under one tone of the melody.
    private static PlaceEvidence Place(string key, string before, string after, string melody)
    {
        var home = Key.Parse(key);
        var note = new MelodyNote(new SoundingNote(new Pitch(Tone.Parse(melody[..^1]), melody[^1] - '0'), 0, 2, 0, 1, "1"), null,
            null);
        return PlaceEvidence.Of(home, (home, Named(before, home)), (home, Named(after, home)), [note], 0, 2, 1);
    }
}
