using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests;

public sealed class KeyTests
{
    [Theory]
    [InlineData("C major", 0)]
    [InlineData("A minor", 0)]
    [InlineData("F# minor", 3)]
    [InlineData("Eb major", -3)]
    public void A_key_has_its_signature(string key, int sharps) => Assert.Equal(sharps, Key.Parse(key).Signature);
}
