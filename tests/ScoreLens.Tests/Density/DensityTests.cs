using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Density;

/// <summary>Expected shares are worked out by hand in each test.</summary>
public sealed class DensityTests
{
    private static readonly Key CMajor = new(new Tone(0), Mode.Major);

    [Theory]
    [InlineData("20-30", "1/5", "3/10")]
    [InlineData("20–30%", "1/5", "3/10")]
    [InlineData("12.5-40", "1/8", "2/5")]
    [InlineData("0-100", "0", "1")]
    public void A_band_is_read_from_per_cent(string text, string low, string high)
    {
        var band = Band.Parse(text);
        Assert.Equal((Fraction.Parse(low), Fraction.Parse(high)), (band.Low, band.High));
        Assert.Equal(band, Band.Parse(band.ToString()));
    }

    [Theory]
    [InlineData("")]
    [InlineData("30-20")]
    [InlineData("20")]
    [InlineData("-5-20")]
    [InlineData("20-130")]
    [InlineData("a-b")]
    public void What_is_no_band_is_refused(string text) => Assert.Throws<FormatException>(() => Band.Parse(text));

    [Fact]
    public void The_edges_of_the_band_are_inside()
    {
        Assert.Equal(Verdict.Within, Band.Default.Judge(new Fraction(1, 5)));
        Assert.Equal(Verdict.Within, Band.Default.Judge(new Fraction(3, 10)));
        Assert.Equal(Verdict.Below, Band.Default.Judge(new Fraction(1999, 10000)));
        Assert.Equal(Verdict.Above, Band.Default.Judge(new Fraction(3001, 10000)));
    }

    [Fact]
    public void An_applied_chord_counts_for_the_time_it_lasts_and_once_as_a_chord()
    {
        var density = CueDensity.Of(
            [Chord(0, 3, "I"), Chord(3, 1, "V7/V", Device.SecondaryDominant, outsideHome: true), Chord(4, 2, "V"), Chord(6, 2, "I")],
            [Phrase(1, 0, 8)],
            Band.Default);
        var shares = Assert.Single(density.Phrases).Shares;
        Assert.Equal(new Fraction(1, 8), shares.OutsideTime);
        Assert.Equal(new Fraction(1, 4), shares.OutsideChords);
        Assert.Equal(new Fraction(1, 8), shares.TimeOf(Device.SecondaryDominant));
        Assert.Equal(new Fraction(1, 8), shares.OutsideHomeTime);
        Assert.Equal(Verdict.Below, density.Verdict);
    }

    [Fact]
    public void A_modulated_passage_is_inside_its_local_key_and_outside_the_home_key()
    {
        var gMajor = new Key(new Tone(1), Mode.Major);
        var density = CueDensity.Of(
            [Chord(0, 4, "I"), Chord(4, 2, "V7", key: gMajor, outsideHome: true), Chord(6, 2, "I", key: gMajor)],
            [Phrase(1, 0, 8)],
            Band.Default);
        Assert.Equal(Fraction.Zero, density.Whole.OutsideTime);
        Assert.Equal(new Fraction(1, 4), density.Whole.OutsideHomeTime);
        Assert.Equal(new Fraction(1, 3), density.Whole.OutsideHomeChords);
    }

    [Fact]
    public void Silence_and_unnamed_chords_are_not_counted()
    {
        var density = CueDensity.Of(
            [Chord(0, 4, null), Chord(4, 1, "bVI", Device.ModalMixture), Chord(5, 3, "I"), Chord(8, 8, null)],
            [Phrase(1, 0, 16)],
            Band.Default);
        Assert.Equal(4, density.Whole.Quarters);
        Assert.Equal(2, density.Whole.Chords);
        Assert.Equal(new Fraction(1, 4), density.Whole.OutsideTime);
        Assert.Equal(Verdict.Within, density.Verdict);
    }

    [Fact]
    public void A_chord_over_the_edge_of_a_phrase_is_split_by_time_and_counted_once_where_it_begins()
    {
        var density = CueDensity.Of(
            [Chord(0, 3, "I"), Chord(3, 4, "bVI", Device.ModalMixture), Chord(7, 1, "I")],
            [Phrase(1, 0, 4), Phrase(2, 4, 8)],
            Band.Default);
        Assert.Equal(new Fraction(1, 4), density.Phrases[0].Shares.OutsideTime);
        Assert.Equal(new Fraction(3, 4), density.Phrases[1].Shares.OutsideTime);
        Assert.Equal((2, 1), (density.Phrases[0].Shares.Chords, density.Phrases[0].Shares.OutsideChordCount));
        Assert.Equal((1, 0), (density.Phrases[1].Shares.Chords, density.Phrases[1].Shares.OutsideChordCount));
        Assert.Equal([Verdict.Within, Verdict.Above], density.Phrases.Select(p => p.Verdict));
        Assert.Equal(new Fraction(1, 2), density.Whole.OutsideTime);
    }

    [Fact]
    public void A_cue_without_chords_has_shares_of_zero()
    {
        var density = CueDensity.Of([], [], Band.Default);
        Assert.Equal(Fraction.Zero, density.Whole.OutsideTime);
        Assert.Equal(Fraction.Zero, density.Whole.OutsideChords);
        Assert.Empty(density.Whole.Devices);
    }

    [Fact]
    public void Phrases_weigh_as_much_as_they_last_and_devices_add_up_to_the_whole()
    {
        var density = CueDensity.Of(
            [
                Chord(0, 1, "bVI", Device.ModalMixture), Chord(1, 1, "I"),
                Chord(2, 1, "V7/ii", Device.SecondaryDominant), Chord(3, 2, "Ger65", Device.AugmentedSixth), Chord(5, 5, "V"),
            ],
            [Phrase(1, 0, 2), Phrase(2, 2, 10)],
            Band.Default);
        Assert.Equal(new Fraction(4, 10), density.Whole.OutsideTime);
        Assert.Equal([Device.AugmentedSixth, Device.SecondaryDominant, Device.ModalMixture], density.Whole.Devices);
        Assert.Equal(density.Whole.OutsideTime, DeviceNames.All.Aggregate(Fraction.Zero, (sum, d) => sum + density.Whole.TimeOf(d)));
    }

    private static Phrase Phrase(int number, int start, int end) => new(number, start, end, CMajor, Cadence.None);

    private static TaggedChord Chord(int onset, int duration, string? numeral, Device? device = null, Key? key = null,
        bool outsideHome = false) =>
        new(
            new ChordReading(onset, duration, key ?? CMajor, numeral is null ? null : Numeral.Parse(numeral), 1, []),
            HarmonicFunction.None, device, [], null, Resolution.None, outsideHome, null);
}
