using ScoreLens.Output.Annotation;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>
/// Engraving rules (common practice): an accidental holds for its line to the end of the measure, one that a tie carries over the bar line
/// for its note alone.
/// </summary>
public sealed class AccidentalsTests
{
    private readonly Accidentals _accidentals = new();

    [Fact]
    public void What_the_signature_writes_needs_no_sign()
    {
        Assert.Null(_accidentals.Needed('F', 4, 1, signature: 1, isHeld: false));
        Assert.Equal(0, _accidentals.Needed('F', 5, 0, signature: 1, isHeld: false));
    }

    [Fact]
    public void A_sign_holds_for_its_line_until_another_comes()
    {
        Assert.Equal(1, _accidentals.Needed('C', 5, 1, signature: 0, isHeld: false));
        Assert.Null(_accidentals.Needed('C', 5, 1, signature: 0, isHeld: false));
        Assert.Equal(1, _accidentals.Needed('C', 4, 1, signature: 0, isHeld: false));
        Assert.Equal(0, _accidentals.Needed('C', 5, 0, signature: 0, isHeld: false));
    }

    [Fact]
    public void A_note_tied_over_the_bar_line_needs_none_and_gives_none()
    {
        Assert.Null(_accidentals.Needed('B', 3, -1, signature: 0, isHeld: true));
        Assert.Equal(-1, _accidentals.Needed('B', 3, -1, signature: 0, isHeld: false));
    }
}
