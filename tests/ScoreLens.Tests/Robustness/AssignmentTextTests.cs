using ScoreLens.Marking.Assignments;
using Xunit;

namespace ScoreLens.Tests.Robustness;

/// <summary>Assignment files made to do harm.</summary>
public sealed class AssignmentTextTests
{
    [Theory]
    [InlineData(100)]
    [InlineData(100_000)]
    public void Lists_nested_without_end_are_refused_with_their_line(int depth)
    {
        var error = Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse("title: x\ntasks: " + new string('[', depth), ""));
        Assert.Equal(2, Assert.Single(error.Problems).Line);
        Assert.Contains("deep", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_larger_than_an_assignment_is_refused()
    {
        var error = Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse(new string('#', 1_000_001), ""));
        Assert.Contains("larger", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("title: *nobody")]
    [InlineData("title: &a [*a]")]
    [InlineData("title: \"\\x\"")]
    [InlineData("? [a, b]\n: c")]
    [InlineData("\u0000")]
    public void Text_that_is_hardly_YAML_is_refused_with_a_line(string text) =>
        Assert.All(Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse(text, "")).Problems, p => Assert.True(p.Line >= 1));
}
