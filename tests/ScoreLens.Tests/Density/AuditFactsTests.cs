using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Density;

/// <summary>What an audit says beside shares: who plays the colour, where it is densest, what comes back, and by section.</summary>
public sealed class AuditFactsTests
{
    public static TheoryData<string> Scores => [.. Directory.EnumerateFiles(Places.TestData, "*.musicxml", SearchOption.AllDirectories)
        .Where(f => !f.Contains("homework", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Scores))]
    public void Every_part_that_is_said_to_play_a_colour_tone_plays_it_and_no_other_does(string path)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(path).Score);
        foreach (var row in ChordRow.Of(analysis))
        {
            var reading = row.Chord.Reading;
            Assert.True(row.Chord.IsOutside || row.Colour.Count == 0);
            foreach (var colour in row.Colour)
            {
                Assert.False(reading.Key.Contains(colour.Tone));
                Assert.Contains(colour.Tone, reading.Numeral!.Tones(reading.Key));
                var playing = analysis.Score.Notes.Where(n => n.IsHarmonic && n.Onset < reading.End && n.End > reading.Onset
                    && n.Pitch.Midi % 12 == colour.Tone.PitchClass).Select(n => analysis.Score.Parts[n.Part].Name).Distinct();
                Assert.Equal(playing.Order(StringComparer.Ordinal), colour.Parts.Order(StringComparer.Ordinal));
            }

            Assert.True(ColourText.TryParse(ColourText.Of(row.Colour), null, out var read));
            Assert.Equal(ColourText.Of(row.Colour), ColourText.Of(read));
        }
    }

    [Theory]
    [MemberData(nameof(Scores))]
    public void Chords_of_a_phrase_begin_in_it(string path)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(path).Score);
        var cue = TabledCue.Of("cue", analysis);
        var rows = AuditRow.Of(cue, CueDensity.Of(analysis, Band.Default));
        Assert.All(rows, row =>
        {
            var phrase = row.Place.Phrase;
            Assert.All(row.Outside, c => Assert.True(c.Chord.Reading.Onset >= phrase.Start && c.Chord.Reading.Onset < phrase.End));
            if (row.HeldOver is { } held) Assert.True(held.Chord.Reading.Onset < phrase.Start && held.Chord.Reading.End > phrase.Start);
        });
    }

    [Theory]
    [InlineData(1995, 10000, "19.95 %")]
    [InlineData(1, 5, "20 %")]
    [InlineData(3, 10, "30 %")]
    [InlineData(30004, 100000, "30.004 %")]
    [InlineData(199999, 1000000, "19.9999 %")]
    [InlineData(1, 4, "25 %")]
    [InlineData(1, 3, "33.3 %")]
    public void A_share_beside_a_band_shows_on_which_side_it_lies(int numerator, int denominator, string text) =>
        Assert.Equal(text, ShareText.Percent(new Fraction(numerator, denominator), Band.Default));

    [Fact]
    public void The_densest_stretch_is_the_first_with_most_time_outside()
    {
        // One chord a measure of four quarter notes; two of measures 3 to 5 and both of 7 and 8 are outside.
        var cue = Cue("I V V/V I V/V I V/V V/V I I");
        var dense = DenseStretch.Of(cue, 2)!;
        Assert.Equal(("7", "8"), (dense.FirstMeasure, dense.LastMeasure));
        Assert.Equal(Fraction.One, dense.Shares.OutsideTime);
        Assert.Equal(("5", "8"), (DenseStretch.Of(cue, 4)!.FirstMeasure, DenseStretch.Of(cue, 4)!.LastMeasure));
        Assert.Null(DenseStretch.Of(cue, 10));
        Assert.Null(DenseStretch.Of(cue with { Measures = [] }, 2));
        Assert.Null(DenseStretch.Of(Cue("I V I V I"), 2));
    }

    [Fact]
    public void The_curve_goes_through_all_measures_once()
    {
        var cue = Cue("I V V/V I V/V I V/V V/V I I V/V");
        var curve = CurvePoint.Of(cue, 4);
        Assert.Equal([("1", "4"), ("5", "8"), ("9", "11")], curve.Select(p => (p.FirstMeasure, p.LastMeasure)));
        Assert.Equal([new Fraction(1, 4), new Fraction(3, 4), new Fraction(1, 3)], curve.Select(p => p.Shares.OutsideTime));
        Assert.Equal(new Fraction(44), curve.Aggregate(Fraction.Zero, (sum, p) => sum + p.Shares.Quarters));
        Assert.Empty(CurvePoint.Of(cue, 11));
        Assert.Empty(CurvePoint.Of(cue with { Measures = [] }, 4));
    }

    [Fact]
    public void A_device_that_comes_again_is_counted_by_its_entries()
    {
        // Entries at measures 3, 5, 7 (with 8 as one of them) and 20.
        var cue = Cue("I V V/V I V/vi I V/V V/V I I I I I I I I I I I V/V I");
        var found = Assert.Single(Repetition.Of(cue, 8));
        Assert.Equal((Device.SecondaryDominant, 4, 2, "V/V", 3),
            (found.Device, found.Entries, found.Returns, found.Numeral.ToString(), found.NumeralEntries));
        Assert.Equal(3, Assert.Single(Repetition.Of(cue, 13)).Returns);
        Assert.Equal(2, Assert.Single(Repetition.Of(cue with { Measures = [] }, 8)).Returns);
        Assert.Empty(Repetition.Of(cue, 1));
    }

    [Fact]
    public void Sections_lie_between_rehearsal_marks_and_add_up()
    {
        var cue = Cue("I V V/V I V/V I V/V V/V I I");
        string[] marks = ["", "", "A", "A+1", "A+2", "A+3", "B", "B+1", "B+2", "B+3"];
        var marked = cue with { Chords = [.. cue.Chords.Zip(marks, (c, m) => c with { Rehearsal = m })] };
        var sections = Section.Of(marked);
        Assert.Equal([("", "1"), ("A", "3"), ("B", "7")], sections.Select(s => (s.Mark, s.FirstMeasure)));
        Assert.Equal([Fraction.Zero, new Fraction(1, 2), new Fraction(1, 2)], sections.Select(s => s.Shares.OutsideTime));
        Assert.Equal(new Fraction(40), sections.Aggregate(Fraction.Zero, (sum, s) => sum + s.Shares.Quarters));
        Assert.Empty(Section.Of(cue));
    }

    private static TabledCue Cue(string numerals)
    {
        var key = Key.Parse("C major");
        var read = numerals.Split(' ').Select(n => Numeral.Parse(n)).ToList();
        return new TabledCue(
            "cue", key,
            [.. read.Select((n, i) => new ChordRow(
                new TaggedChord(new ChordReading(4 * i, 4, key, n, 1, []), HarmonicFunction.None,
                    n.IsApplied ? Device.SecondaryDominant : null, [], null, Resolution.None, n.IsApplied, null),
                $"{i + 1}", 1, 1))],
            [])
        {
            Measures = [.. read.Select((_, i) => new Measure(i, $"{i + 1}", 4 * i, 4, TimeSignature.Common, 0))],
        };
    }
}
