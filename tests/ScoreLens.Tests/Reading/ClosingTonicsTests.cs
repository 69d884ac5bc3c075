using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public sealed class ClosingTonicsTests
{
    // Common practice: a piece in F that borrows its flat seventh degree does not end on a dominant of B flat.
    [Fact]
    public void What_begins_and_ends_on_the_tonic_of_its_signature_is_in_that_key() =>
        Assert.Equal(["F I", "F bVII", "F IV", "F I"], Mark(-1, "Bb V", "Bb IV", "Bb I", "Bb V"));

    [Fact]
    public void Its_last_chords_come_home() =>
        Assert.Equal(["F I", "F V", "F I", "F IV", "F bVII", "F I"], Mark(-1, "F I", "F V", "F I", "Bb I", "Bb IV", "Bb V"));

    [Theory]
    [InlineData(-2, "Bb V", "Bb IV", "Bb I", "Bb V")]
    [InlineData(-1, "Bb V", "Bb IV", "Bb V", "Bb I", "Bb V")]
    [InlineData(-1, "Bb V", "Bb ii7", "Bb V")]
    [InlineData(-1, "Bb I", "Bb IV", "Bb I", "Bb V")]
    public void A_half_close_in_the_key_of_the_signature_or_after_a_real_dominant_stays(int signature, params string[] chords) =>
        Assert.Equal(chords, Mark(signature, chords));

    private static IEnumerable<string> Mark(int signature, params string[] chords)
    {
        var score = new Score("Study", [], [new Measure(0, "1", 0, 4, TimeSignature.Common, signature)], [], [], [], []);
        var readings = chords.Select(c => c.Split(' ')).Select((c, i) =>
            new ChordReading(i, 1, Key.Parse(c[0] + " major"), Numeral.Parse(c[1]), 1, []));
        return Refining.By(new ClosingTonics(), readings, score).Select(c => $"{c.Key.Tonic} {c.Numeral}");
    }
}
