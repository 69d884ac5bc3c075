using ScoreLens.Reading;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Search;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

public sealed class HeardTonesTests
{
    private static readonly NumeralVocabulary Vocabulary =
        new([.. ((string[])["I", "I6", "I64", "bVI", "V", "V7", "viio7"]).Select(Class)]);

    // What all chords of these tests gain alike is taken off by comparing them.
    [Fact]
    public void A_whole_chord_that_sounds_gains_even_where_it_was_not_learned()
    {
        // Common practice: the flat submediant with a minor third, Ab Cb Eb over the tonic C.
        var entry = At("bvi");
        Assert.False(Vocabulary.IsLearned(entry));
        Assert.True(Gain("bvi", "Ab3 Cb4 Eb4") > Gain("bVI", "Ab3 Cb4 Eb4") + 1);
        Assert.Contains(entry, Candidates("Ab3 Cb4 Eb4"));
        Assert.DoesNotContain(At("bVI"), Candidates("Ab3 Cb4 Eb4"));
    }

    [Fact]
    public void A_simpler_spelling_gains_a_little_less() =>
        Assert.InRange(Gain("bvi", "Ab3 B3 Eb4"), 0.1, Gain("bvi", "Ab3 Cb4 Eb4") - 0.1);

    [Fact]
    public void A_broken_chord_is_as_whole_as_a_struck_one() => Assert.Equal(Gain("I", "C3 E3 G3"), Gain("I", "C3", "E3", "G3", "C4"));

    [Theory]
    [InlineData("C3 E3")]
    [InlineData("C3 E3 G3 A3")]
    public void Where_a_tone_is_lacking_or_another_sounds_the_chord_is_not_whole(string notes) =>
        Assert.True(Gain("I", notes) < Gain("I", "C3 E3 G3") - 1);

    [Fact]
    public void Silence_says_nothing() => Assert.Equal(0, Gain("I", ""));

    [Fact]
    public void The_longer_foreign_tones_sound_the_less_a_chord_gains()
    {
        Assert.True(Gain("I", "C3 E3", "C3 F3") < Gain("I", "C3 E3", "C3 E3", "C3 F3"));
        Assert.True(Gain("I", "C3 E3", "C3 E3", "C3 F3") < Gain("I", "C3 E3"));
    }

    [Fact]
    public void A_seventh_that_nobody_plays_is_no_seventh()
    {
        Assert.True(Gain("V7", "G3 B3") < Gain("V", "G3 B3"));
        Assert.True(Gain("V7", "G3 B3 F4") > Gain("V", "G3 B3 F4"));
    }

    [Theory]
    [InlineData("E3 C4 E4", "I6")]
    [InlineData("G3 C4 E4", "I64")]
    public void The_lowest_note_tells_the_inversion(string notes, string numeral) => Assert.True(Gain(numeral, notes) > Gain("I", notes));

    private static double Gain(string numeral, params string[] verticals)
    {
        var gain = new double[1];
        Heard(verticals).AddGains(0, 0, [At(numeral)], gain);
        return gain[0];
    }

    private static List<int> Candidates(string notes)
    {
        var entries = new List<int>();
        Heard([notes]).AddCandidates(0, 0, (int)Mode.Major, entries);
        return entries;
    }

    private static HeardTones Heard(string[] verticals) => new(Vocabulary, [.. verticals.Select(Vertical)], ReadingSettings.Default, _ =>
        false);

    private static Sonority Vertical(string notes, int index) => new(
        index, 1, [.. notes.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(n => new SoundingNote(new Pitch(Tone.Parse(n[..^1], null), n[^1] - '0'), index, index + 1, 0, 1, "1"))], 1, 0);

    private static int At(string numeral) => Vocabulary.Classes.Index().Single(c => c.Item == Class(numeral)).Index;

    private static NumeralClass Class(string numeral) => NumeralClass.Of(Numeral.Parse(numeral), Mode.Major);
}
