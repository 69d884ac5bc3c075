using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

public sealed class ExplainTests
{
    private static readonly string Score = Path.Combine(Places.TestData, "lamplight.musicxml");

    [Fact]
    public void A_place_is_explained_with_key_numeral_symbol_and_confidence()
    {
        var (status, output, _) = Run("explain", Score, "--at", "3");
        Assert.Equal(0, status);
        Assert.Contains("measure 3, beat 1", output, StringComparison.Ordinal);
        // The score's own dominant: C E G over C, by its notes.
        Assert.Contains("sounding    C4 C4 G4 E5", output, StringComparison.Ordinal);
        Assert.Contains("in F major", output, StringComparison.Ordinal);
        Assert.Contains("confidence", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_beat_of_a_measure_is_found()
    {
        var (status, output, _) = Run("explain", Score, "--at", "11:2.5");
        Assert.Equal(0, status);
        Assert.Contains("measure 11, beat 2.5", output, StringComparison.Ordinal);
        Assert.Contains("sounding    Db3 F3 Ab3 B4", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("99", "there is no measure 99; the measures are 1 to 12")]
    [InlineData("3:5", "measure 3 has no beat 5")]
    public void A_place_that_the_score_has_not_is_a_wrong_command_line(string place, string message)
    {
        var (status, _, error) = Run("explain", Score, "--at", place);
        Assert.Equal(2, status);
        Assert.Contains(message, error, StringComparison.Ordinal);
    }
}
