using ScoreLens.Devices;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Pipeline;

/// <summary>
/// What must hold of the whole way from a score to its tables, whichever reader finds the chords: the same music written
/// otherwise is read alike.
/// </summary>
public sealed class MetamorphicTests
{
    public static TheoryData<string> Scores => [.. Transformations.OwnScores];

    [Theory]
    [MemberData(nameof(Scores))]
    public void Transposing_the_score_transposes_the_reading(string name)
    {
        var score = Transformations.Read(Transformations.Xml(name));
        var original = CueAnalysis.Of(score);
        foreach (var fifths in (int[])[-3, -2, 2, 3])
        {
            var moved = CueAnalysis.Of(Transformations.Transposed(score, fifths));
            Assert.Equal(
                original.Chords.Select(c => Describe(c, fifths)),
                moved.Chords.Select(c => Describe(c, 0)));
            Assert.Equal(original.Reading.HomeKey.Tonic + fifths, moved.Reading.HomeKey.Tonic);
            Assert.Equal(
                original.Phrases.Select(p => (p.Start, p.End, p.Key.Tonic + fifths, p.Key.Mode, p.Cadence)),
                moved.Phrases.Select(p => (p.Start, p.End, p.Key.Tonic, p.Key.Mode, p.Cadence)));
        }
    }

    [Theory]
    [MemberData(nameof(Scores))]
    public void Splitting_long_notes_into_tied_ones_changes_nothing(string name)
    {
        var score = Transformations.Read(Transformations.Xml(name));
        AssertSame(CueAnalysis.Of(score), CueAnalysis.Of(Transformations.Split(score, 2)));
        AssertSame(CueAnalysis.Of(score), CueAnalysis.Of(Transformations.Split(score, 1)));
    }

    [Theory]
    [MemberData(nameof(Scores))]
    public void A_timewise_score_is_the_same_score(string name)
    {
        var xml = Transformations.Xml(name);
        Assert.Equal("score-partwise", xml.Root!.Name.LocalName);
        var (partwise, timewise) = (Transformations.Read(xml), Transformations.Read(Transformations.Timewise(xml)));
        Assert.Equal(partwise.Parts, timewise.Parts);
        Assert.Equal(partwise.Measures, timewise.Measures);
        Assert.Equal(partwise.Notes, timewise.Notes);
        Assert.Equal(partwise.Rests, timewise.Rests);
        Assert.Equal(partwise.Texts, timewise.Texts);
        AssertSame(CueAnalysis.Of(partwise), CueAnalysis.Of(timewise));
    }

    [Theory]
    [MemberData(nameof(Scores))]
    public void The_order_of_the_notes_in_the_score_does_not_matter(string name)
    {
        var score = Transformations.Read(Transformations.Xml(name));
        var shuffled = score with { Notes = [.. score.Notes.Reverse()] };
        AssertSame(CueAnalysis.Of(score), CueAnalysis.Of(shuffled));
    }

    [Theory]
    [MemberData(nameof(Scores))]
    public void The_stages_agree_about_the_timeline(string name)
    {
        var analysis = CueAnalysis.Of(Transformations.Read(Transformations.Xml(name)));
        Assert.NotEmpty(analysis.Chords);
        Assert.Equal(analysis.Reading.Chords, analysis.Chords.Select(c => c.Reading));
        foreach (var (chord, next) in analysis.Reading.Chords.Zip(analysis.Reading.Chords.Skip(1))) Assert.True(chord.End <= next.Onset);
        foreach (var (phrase, next) in analysis.Phrases.Zip(analysis.Phrases.Skip(1))) Assert.Equal(phrase.End, next.Start);
        Assert.Equal(Fraction.Zero, analysis.Phrases[0].Start);
        Assert.Equal(analysis.Score.End, analysis.Phrases[^1].End);
        foreach (var chord in analysis.Chords)
        {
            Assert.True(chord.Reading.Duration.Sign > 0);
            Assert.InRange(chord.Reading.Confidence, 0, 1);
            if (chord.Reading.Numeral is { } numeral) Assert.Equal(chord.IsOutside, !Diatonic.Contains(chord.Reading.Key, numeral));
        }
    }

    private static void AssertSame(CueAnalysis one, CueAnalysis other)
    {
        Assert.Equal(one.Reading.HomeKey, other.Reading.HomeKey);
        Assert.Equal(one.Chords.Select(c => Describe(c, 0)), other.Chords.Select(c => Describe(c, 0)));
        Assert.Equal(one.Phrases, other.Phrases);
    }

    private static string Describe(TaggedChord chord, int fifths)
    {
        var reading = chord.Reading;
        var key = new Key(reading.Key.Tonic + fifths, reading.Key.Mode);
        return $"{reading.Onset} {reading.Duration} {key} {reading.Numeral} {chord.Function} {chord.Device} {chord.Resolution} "
            + $"{chord.OutsideHome}";
    }
}
