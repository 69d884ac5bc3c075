using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.PartWriting.Species;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

/// <summary>
/// Faults planted into two-part counterpoint that was written under stricter constraints than the rules, by code that shares nothing with
/// them. The benchmark <c>planted-faults</c> plants more of them.
/// </summary>
public sealed class PlantedSpeciesTests
{
    private static readonly HarmonicReading NoChords = new(new Key(Tone.Of('D'), Mode.Minor), []);

    public static TheoryData<string> Rules => [.. SpeciesPlanter.Rules];

    [Fact]
    public void A_fault_of_every_rule_can_be_planted() =>
        Assert.Equal(SpeciesRules.All.Select(r => r.Name).Order(), SpeciesPlanter.Rules.Order());

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Clean_counterpoint_gets_no_remark(int species)
    {
        var random = new Random(40 + species);
        for (var i = 0; i < 40; i++)
        {
            var exercise = SpeciesExercise.Write(species, random);
            Assert.Equal(species, exercise.Species);
            Assert.Equal([], Check(exercise).Select(r => $"{string.Join(' ', exercise.Line.Select(n => n.Pitch))}: {r.Place}: {r.Text}"));
        }
    }

    [Theory]
    [MemberData(nameof(Rules))]
    public void A_planted_fault_is_found_at_its_place(string rule)
    {
        var random = new Random(2026);
        for (var i = 0; i < 25; i++)
        {
            var (_, planted, onset) = SpeciesPlanter.Plant(rule, random)!.Value;
            Assert.Contains(Check(planted), r => r.Kind.Name() == rule && r.Onset == onset);
        }
    }

    private static IReadOnlyList<Remark> Check(SpeciesExercise exercise) => PartWritingCheck.Run(
        exercise.Score, SonorityFinder.Find(exercise.Score), NoChords,
        PartWritingOptions.Default with { Style = PartWritingStyle.Counterpoint, Species = exercise.Species, VoiceCount = 2 });
}
