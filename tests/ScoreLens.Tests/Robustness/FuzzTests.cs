using ScoreLens.TestKit.Fuzzing;
using Xunit;

namespace ScoreLens.Tests.Robustness;

/// <summary>A few mutants of each kind, and each one that once broke something; the benchmark <c>fuzz</c> makes any number.</summary>
public sealed class FuzzTests
{
    private static readonly Lazy<MutantFactory> Factory = new(() => new MutantFactory());

    [Theory]
    [InlineData(MutantKind.MusicXml, 60)]
    [InlineData(MutantKind.Midi, 60)]
    [InlineData(MutantKind.Assignment, 200)]
    [InlineData(MutantKind.Table, 200)]
    public void Mutants_are_read_or_refused_with_a_reason(MutantKind kind, int count)
    {
        var outcomes = Enumerable.Range(0, count).Select(seed => (seed, Result: Ordeal.Run(Factory.Value.Make(kind, seed)))).ToArray();
        var broken = outcomes.Where(o => o.Result.Outcome is Outcome.Broken or Outcome.Hung);
        Assert.Equal([], broken.Select(o => $"seed {o.seed}: {o.Result.What}"));
        // Mutations that spare every file, or break every one, would try nothing.
        Assert.Contains(outcomes, o => o.Result.Outcome == Outcome.Read);
        Assert.Contains(outcomes, o => o.Result.Outcome == Outcome.Refused);
    }

    [Theory]
    [InlineData(MutantKind.MusicXml, 1298, "a key so far off that its leading tone has no name")]
    [InlineData(MutantKind.MusicXml, 3909, "a duration of a thousand million quarter notes")]
    [InlineData(MutantKind.Midi, 3001, "control characters in a MIDI title")]
    [InlineData(MutantKind.Assignment, 14, "a slip of the YAML scanner")]
    [InlineData(MutantKind.Assignment, 174, "an event that the YAML tree does not know")]
    public void What_once_broke_something_holds(MutantKind kind, int seed, string what)
    {
        var (outcome, said) = Ordeal.Run(Factory.Value.Make(kind, seed));
        Assert.True(outcome is Outcome.Read or Outcome.Refused, $"{what}: {said}");
    }

    [Fact]
    public void The_same_seed_makes_the_same_mutant()
    {
        foreach (var kind in Enum.GetValues<MutantKind>())
            Assert.Equal(Factory.Value.Make(kind, 7).Bytes, new MutantFactory().Make(kind, 7).Bytes);
        Assert.NotEqual(Factory.Value.Make(MutantKind.Midi, 7).Bytes, Factory.Value.Make(MutantKind.Midi, 8).Bytes);
    }
}
