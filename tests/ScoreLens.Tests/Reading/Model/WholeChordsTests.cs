using ScoreLens.Reading.Model;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

public sealed class WholeChordsTests
{
    private static readonly NumeralVocabulary Vocabulary = new([.. ((string[])["I", "bVI", "V", "viio7"]).Select(Class)]);

    [Fact]
    public void A_whole_chord_that_sounds_gains_even_where_it_was_not_learned()
    {
        // Common practice: the flat submediant with a minor third, Ab Cb Eb over the tonic C.
        var entry = At("bvi");
        Assert.False(Vocabulary.IsLearned(entry));
        Assert.True(Gain("bvi", "Ab3 Cb4 Eb4") > 0);
        Assert.Equal(0, Gain("bVI", "Ab3 Cb4 Eb4"));
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
    [InlineData("")]
    public void Where_a_tone_is_lacking_or_another_sounds_nothing_is_gained(string notes) => Assert.Equal(0, Gain("I", notes));

    private static double Gain(string numeral, params string[] verticals) => Heard(verticals).Gain(0, 0, At(numeral));

    private static List<int> Candidates(string notes)
    {
        var entries = new List<int>();
        Heard([notes]).AddCandidates(0, 0, (int)Mode.Major, entries);
        return entries;
    }

    private static WholeChords Heard(string[] verticals) => new(Vocabulary, [.. verticals.Select(Vertical)], _ => false);

    private static Sonority Vertical(string notes, int index) => new(
        index, 1, [.. notes.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(n => new SoundingNote(new Pitch(Tone.Parse(n[..^1], null), n[^1] - '0'), index, index + 1, 0, 1, "1"))], 1, 0);

    private static int At(string numeral) => Vocabulary.Classes.Index().Single(c => c.Item == Class(numeral)).Index;

    private static NumeralClass Class(string numeral) => NumeralClass.Of(Numeral.Parse(numeral), Mode.Major);
}
