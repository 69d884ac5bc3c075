using ScoreLens.Density;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reharmonising;

/// <summary>Sets of changes, and chords that begin or end elsewhere than those that stand there.</summary>
public sealed class SetTests
{
    private static readonly string[] Plain = ["I E5", "vi C5", "IV C5", "ii D5", "V D5", "I C5", "IV C5", "V B4", "I C5"];

    [Fact]
    public void A_span_inside_a_chord_divides_it_and_one_over_two_joins_them()
    {
        var analysis = SpelledProgression.Analyse("C major", Plain);
        var reharmoniser = new Reharmoniser(analysis, Band.Default).Over([new ChordSpan(3, 4), new ChordSpan(4, 8)]);
        Assert.Equal(["I 0 2", "vi 2 1", "vi 3 1", "IV 4 4", "V 8 2"], reharmoniser.Analysis.Chords.Take(5)
            .Select(c => $"{c.Reading.Numeral} {c.Reading.Onset} {c.Reading.Duration}"));
        // What is counted outside the key does not change with the borders.
        Assert.Equal(Shares.Between(analysis.Chords, 0, 18).OutsideQuarters,
            Shares.Between(reharmoniser.Analysis.Chords, 0, 18).OutsideQuarters);
    }

    [Fact]
    public void A_chord_for_two_takes_the_time_of_both()
    {
        var analysis = SpelledProgression.Analyse("C major", Plain);
        var reharmoniser = new Reharmoniser(analysis, Band.Default).Over([new ChordSpan(2, 6)]);
        var offers = reharmoniser.At(1, all: true).Where(a => a.Rewriting.IsPossible).ToArray();
        Assert.NotEmpty(offers);
        Every.Item(offers, a => Assert.Equal((2, 6), (a.Rewriting.Start, a.Rewriting.End)));
        Every.Item(offers, a => Assert.All(a.Rewriting.Changes, c => Assert.InRange(c.Note.Onset.ToDouble(), 2, 5.99)));
    }

    [Fact]
    public void A_chord_can_be_asked_for_by_its_numeral_and_is_refused_where_it_does_not_carry_the_melody()
    {
        var reharmoniser = new Reharmoniser(SpelledProgression.Analyse("C major", Plain), Band.Default);
        var asked = reharmoniser.Named(3, Numeral.Parse("V7/V"));
        Assert.NotNull(asked);
        Assert.Equal((0, "V7/V"), (asked.Rank, asked.Numeral.ToString()));
        Assert.True(asked.Rewriting.IsPossible);
        Assert.Null(reharmoniser.Named(3, Numeral.Parse("iii")));
    }

    [Theory]
    [InlineData(OfferOrder.Best)]
    [InlineData(OfferOrder.Experts)]
    [InlineData(OfferOrder.Smoothness)]
    [InlineData(OfferOrder.Dose)]
    public void A_set_keeps_the_cadence_and_its_ranks_are_those_of_the_list_in_the_order(OfferOrder order)
    {
        var (analysis, band) = (SpelledProgression.Analyse("C major", Plain), new Band(new Fraction(20, 100), new Fraction(35, 100)));
        var reharmoniser = new Reharmoniser(analysis, band);
        var set = new SetSearch(reharmoniser, band, order).Find(0, 18, ColourWish.IntoBand);
        Assert.True(set.After > set.Before);
        Assert.All(set.Choices, c => Assert.True(set.Analysis.Chords[c.Index].Reading.Onset < 14));
        foreach (var choice in set.Choices.Where(c => c.Alternative.Rank > 0 && set.Analysis.Chords.Count == analysis.Chords.Count))
        {
            var listed = reharmoniser.List(choice.Index, order, choice.Alternative.Rank).Alternatives;
            Assert.Equal(choice.Alternative.Numeral, listed.Single(a => a.Rank == choice.Alternative.Rank).Numeral);
        }
    }

    [Fact]
    public void Where_no_chord_of_the_key_carries_the_melody_a_sentence_says_why()
    {
        var analysis = SpelledProgression.Analyse("C major", "I C5", "V7/ii C#5", "ii D5", "V D5", "I C5");
        var reharmoniser = new Reharmoniser(analysis, Band.Default);
        Assert.Equal("the melody's C# is no tone of Am, nor does it pass or lean there.", reharmoniser.WhyNotPlain(1));
        Assert.Equal("", reharmoniser.WhyNotPlain(2));
        var carried = new Reharmoniser(SpelledProgression.Analyse("C major", "I C5", "V7/V A5", "V G5", "I C5"), Band.Default);
        Assert.Equal("", carried.WhyNotPlain(1));
    }
}
