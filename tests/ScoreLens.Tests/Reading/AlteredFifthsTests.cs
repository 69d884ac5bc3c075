using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public sealed class AlteredFifthsTests
{
    private static readonly Key C = Key.Parse("C major");

    // Common practice: G7, then its fifth moves to Db or D# for the second half.
    [Theory]
    [InlineData("Db", 2, 2)]
    [InlineData("D#", 2, 2)]
    [InlineData("Db", 1, 3)]
    public void A_dominant_whose_fifth_moves_and_stays_is_two_chords(string altered, int natural, int then) =>
        Assert.Equal([(0, natural), (natural, then)], Divide("V7", altered, natural, then));

    [Theory]
    [InlineData("V7", "Db", 3, 1)]
    [InlineData("V7", "C", 2, 2)]
    [InlineData("viiø7", "Db", 2, 2)]
    public void A_fifth_that_only_passes_or_moves_by_a_tone_divides_nothing(string numeral, string other, int natural, int then) =>
        Assert.Equal([(0, natural + then)], Divide(numeral, other, natural, then));

    [Fact]
    public void In_a_broken_chord_the_second_begins_with_its_bass()
    {
        Note[] notes = [.. "GDFBGDFBG*FBG*FB".Select((c, i) =>
            Of(c == '*' ? Tone.Parse("Db") : Tone.Of(c), 4, new Fraction(i, 2), new Fraction(1, 2)))];
        Assert.Equal([(0, 4), (4, 4)], Divide("V7", notes.Select((n, i) => i is 8 or 12 ? n with { Pitch = new Pitch(Tone.Of('G'), 2) }
            : n), 8));
    }

    private static IEnumerable<(Fraction Onset, Fraction Duration)> Divide(string numeral, string altered, int natural, int then)
    {
        var length = natural + then;
        return Divide(
            numeral, [Of(Tone.Of('G'), 3, 0, length), Of(Tone.Of('B'), 3, 0, length), Of(Tone.Of('F'), 4, 0, length),
                Of(Tone.Of('D'), 4, 0, natural), Of(Tone.Parse(altered), 4, natural, then)], length);
    }

    private static IEnumerable<(Fraction Onset, Fraction Duration)> Divide(string numeral, IEnumerable<Note> notes, int length)
    {
        var score = new Score("Study", [new Part(0, "P1", "Piano", 1)], [new Measure(0, "1", 0, length, TimeSignature.Common, 0)],
            [.. notes], [], [], []);
        return Refining.By(new AlteredFifths(), [new ChordReading(0, length, C, Numeral.Parse(numeral), 1, [])], score)
            .Select(c => (c.Onset, c.Duration));
    }

    private static Note Of(Tone tone, int octave, Fraction onset, Fraction duration) =>
        new(new Pitch(tone, octave), onset, duration, 0, 1, "1", NoteMarks.None);
}
