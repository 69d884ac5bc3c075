using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.TestKit.PlantedFaults;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

public sealed class PlantedFaultsTests
{
    private static readonly string[] Names = ["soprano", "alto", "tenor", "bass"];

    private static readonly Lazy<Exercise[]> Clean = new(() =>
    {
        var random = new Random(7);
        return [.. Enumerable.Range(0, 20).Select(_ => CleanChorale.Write(random))];
    });

    // Read and checked once for all rules.
    private static readonly Lazy<Chorale[]> Chorales =
        new(() => [.. ReferenceWork.In(CorpusWorks.Vendored, "open/chorales").Select(Chorale.Of)]);

    private static readonly Lazy<Chorale[]> MoreChorales =
        new(() => [.. ReferenceWork.In(CorpusWorks.Beside!, "open/chorales").Take(40).Select(Chorale.Of)]);

    public static TheoryData<string> Rules => [.. FaultPlanter.Rules];

    [Fact]
    public void A_fault_can_be_planted_for_every_rule() =>
        Assert.Equal(PartWritingRules.All.Select(r => r.Name).Order(), FaultPlanter.Rules.Order());

    [Fact]
    public void Clean_exercises_keep_their_marks()
    {
        foreach (var exercise in Clean.Value)
            Assert.Empty(Check(exercise.Score, exercise.Reading).Select(r => $"{r.Place}: {r.Text}"));
    }

    [Theory]
    [MemberData(nameof(Rules))]
    public void Faults_planted_into_clean_exercises_are_found(string rule)
    {
        var random = new Random(11);
        int planted = 0, found = 0;
        for (var attempt = 0; planted < 20 && attempt < 200; attempt++)
        {
            var exercise = Clean.Value[random.Next(Clean.Value.Length)];
            if (FaultPlanter.Plant(rule, exercise.Score, exercise.Reading, random) is not var (score, reading, fault)) continue;
            planted++;
            if (IsFound(Check(score, reading), fault)) found++;
        }

        Assert.True(planted > 5 && found >= 0.98 * planted, $"{found} of {planted} were found.");
    }

    [Theory]
    [MemberData(nameof(Rules))]
    public void Faults_planted_into_chorales_are_found(string rule) => Plant(rule, Chorales.Value, 40);

    [Theory]
    [MemberData(nameof(Rules))]
    public void Faults_planted_into_more_chorales_of_the_corpus_are_found(string rule)
    {
        SharedFiles.At("corpus");
        Plant(rule, MoreChorales.Value, 40);
    }

    [Fact]
    public void Parallels_in_chorales_are_rare()
    {
        var works = Chorales.Value;
        Assert.NotEmpty(works);
        var parallels = works.Sum(w => w.Remarks.Count(r => r.Kind.Name().StartsWith("parallel-", StringComparison.Ordinal)));
        Assert.True(parallels <= works.Length, $"{parallels} parallels in {works.Length} chorales.");
    }

    // Up to a number of faults, several in a chorale where there are few chorales.
    private static void Plant(string rule, IReadOnlyList<Chorale> works, int attempts)
    {
        var random = new Random(13);
        int planted = 0, found = 0;
        var silent = works.Where(w => w.Remarks.All(r => r.Kind.Name() != rule)).ToArray();
        Assert.NotEmpty(silent);
        for (var attempt = 0; attempt < attempts; attempt++)
        {
            var work = silent[attempt % silent.Length].Work;
            if (FaultPlanter.Plant(rule, work.Score, work.Reading, random) is not var (score, reading, fault)) continue;
            planted++;
            if (IsFound(Check(score, reading), fault)) found++;
        }

        Assert.True(planted > 3, $"Only {planted} could be planted.");
        Assert.True(planted - found <= Math.Max(1, 0.02 * planted), $"{found} of {planted} were found.");
    }

    private static bool IsFound(IReadOnlyList<Remark> remarks, PlantedFault fault) =>
        remarks.Any(r => r.Kind.Name() == fault.Rule && r.Onset == fault.Onset
            && r.Voices.SequenceEqual(fault.Voices.Select(v => Names[v])));

    private static IReadOnlyList<Remark> Check(Score score, HarmonicReading reading) =>
        PartWritingCheck.Run(score, SonorityFinder.Find(score), reading, PartWritingOptions.Default);

    /// <summary>A chorale, and what is said of it as it stands.</summary>
    private sealed record Chorale(ReferenceWork Work, IReadOnlyList<Remark> Remarks)
    {
        public static Chorale Of(ReferenceWork work) => new(work, Check(work.Score, work.Reading));
    }
}
