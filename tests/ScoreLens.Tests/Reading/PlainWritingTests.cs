using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Training.Progressions;
using Xunit;

namespace ScoreLens.Tests.Reading;

/// <summary>What is heard does not depend on how it is written: in which note values, as a block or quickly broken.</summary>
public sealed class PlainWritingTests
{
    [Theory]
    [InlineData(4, 4, "1")]
    [InlineData(2, 2, "1/2")]
    [InlineData(3, 8, "2")]
    [InlineData(6, 8, "1")]
    [InlineData(6, 4, "1/2")]
    [InlineData(6, 16, "2")]
    [InlineData(4, 1, "1/4")]
    public void Most_frequent_beat_is_read_as_a_quarter_or_a_dotted_quarter(int beats, int beatType, string factor)
    {
        var time = new TimeSignature(beats, beatType);
        var score = Written(4) with { Measures = [new Measure(0, "1", 0, time.Length, time, 0)] };
        Assert.Equal(Fraction.Parse(factor, null), NoteValues.FactorOf(score));
    }

    [Theory]
    [InlineData("2")]
    [InlineData("1/2")]
    public void Reading_is_the_same_in_other_note_values(string text)
    {
        var factor = Fraction.Parse(text, null);
        for (var seed = 1; seed <= 5; seed++)
        {
            var score = Written(seed);
            var plain = CueAnalysis.Of(score);
            var other = CueAnalysis.Of(NoteValues.Times(score, factor));
            Assert.Equal(
                plain.Reading.Chords.Select(c => (c.Onset * factor, c.Duration * factor, c.Key, c.Numeral, c.Confidence)),
                other.Reading.Chords.Select(c => (c.Onset, c.Duration, c.Key, c.Numeral, c.Confidence)));
            // What sounds is told in the score's own time.
            foreach (var (a, b) in plain.Reading.Chords.Zip(other.Reading.Chords))
                foreach (var (tone, time) in a.Sound.Times)
                    Assert.Equal(time * factor.ToDouble(), b.Sound.Times[tone], 6);
        }
    }

    [Fact]
    public void Other_note_values_and_back_are_the_score_itself()
    {
        var score = Written(7);
        var back = NoteValues.Times(NoteValues.Times(score, 2), new Fraction(1, 2));
        Assert.Equal(score.Notes, back.Notes);
        Assert.Equal(score.Measures.Select(m => (m.Start, m.Length, m.Time)), back.Measures.Select(m => (m.Start, m.Length, m.Time)));
    }

    [Fact]
    public void Quick_broken_chord_is_gathered_only_where_nothing_else_sounds()
    {
        Pitch[] chord = [new(new Tone(0), 3), new(new Tone(1), 3), new(new Tone(4), 4), new(new Tone(0), 5)];
        var sixteenth = new Fraction(1, 4);
        var figure = chord.Select((p, i) => new Note(p, sixteenth * i, sixteenth, 0, 1, "1", NoteMarks.None)).ToArray();
        var score = Written(1) with { Notes = figure };
        Assert.All(BrokenChords.Gathered(score).Notes, n => Assert.Equal((Fraction.Zero, Fraction.One), (n.Onset, n.Duration)));

        var melody = new Note(new Pitch(new Tone(4), 5), 0, 2, 0, 1, "2", NoteMarks.None);
        var under = score with { Notes = [melody, .. figure] };
        Assert.Same(under, BrokenChords.Gathered(under));
        Pitch[] scale = [new(new Tone(0), 4), new(new Tone(2), 4), new(new Tone(4), 4), new(new Tone(-1), 4)];
        var run = score with { Notes = [.. figure.Zip(scale, (n, p) => n with { Pitch = p })] };
        Assert.Same(run, BrokenChords.Gathered(run));
    }

    [Theory]
    [InlineData("C3 E3 G3 C3 E3 G3 C3 E3", "C3 0 2, E3 0 2, G3 0 2")]
    [InlineData("C3 E3 G3 C4 C3 E3 G3 C4", "C3 0 1, E3 0 1, G3 0 1, C4 0 1, C3 1 1, E3 1 1, G3 1 1, C4 1 1")]
    [InlineData("C3 E3 G3 C3 F3 A3 D4 F4", "C3 0 0.75, E3 0 0.75, G3 0 0.75, C3 0.75 0.25, F3 1 1, A3 1 1, D4 1 1, F4 1 1")]
    [InlineData("C3 E3 C3 E3", "C3 0 1, E3 0 1")]
    [InlineData("C3 D3 C3 D3", "C3 0 0.25, D3 0.25 0.25, C3 0.5 0.25, D3 0.75 0.25")]
    [InlineData("C3 E3", "C3 0 0.25, E3 0.25 0.25")]
    public void What_comes_round_again_belongs_to_the_figure_until_it_begins_anew_on_a_beat(string sixteenths, string heard)
    {
        var length = new Fraction(1, 4);
        var score = Written(1) with
        {
            Notes = [.. sixteenths.Split(' ').Select((p, i) =>
                new Note(new Pitch(Tone.Parse(p[..^1]), p[^1] - '0'), length * i, length, 0, 1, "1", NoteMarks.None))],
        };
        Assert.Equal(heard, string.Join(", ", BrokenChords.Gathered(score).Notes.Select(n => $"{n.Pitch} {n.Onset} {n.Duration}")));
    }

    [Fact]
    public void A_tone_of_two_broken_chords_is_held_where_the_second_begins_off_the_beat()
    {
        var length = new Fraction(1, 8);
        var score = Written(1) with
        {
            Notes = [.. "C3 G3 C4 E4 C3 A3 D4 F4 C3 G3 C4 E4".Split(' ').Select((p, i) =>
                new Note(new Pitch(Tone.Parse(p[..^1]), p[^1] - '0'), length * i, length, 0, 1, "1", NoteMarks.None))],
        };
        var bass = SonorityFinder.JoinTies(BrokenChords.Gathered(score).Notes).Where(n => n.Pitch.Octave == 3 && n.Pitch.Tone == new Tone(0));
        Assert.Equal([((Fraction)0, (Fraction)1), (1, new Fraction(3, 2))], bass.Select(n => (n.Onset, n.End)));
    }

    private static Score Written(int seed) => PhraseComposer.Write(new Random(seed)).Score;
}
