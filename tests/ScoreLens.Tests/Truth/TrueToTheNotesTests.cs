using ScoreLens.Notation;
using ScoreLens.TestKit.Truth;
using Xunit;

namespace ScoreLens.Tests.Truth;

/// <summary>
/// What is said of our own scores, and of the analysed works of others, is in the notes; the benchmark <c>truth</c> counts it at large.
/// </summary>
public sealed class TrueToTheNotesTests
{
    private static readonly Lazy<Fault[]> Demo = new(() => Faults(Path.Combine(Places.TestData, "cues"), Places.TestData));

    private static readonly Lazy<Fault[]> Works = new(() => Faults(Places.External("works")));

    public static TheoryData<FaultKind> Kinds => [.. Enum.GetValues<FaultKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Nothing_of_a_kind_is_wrong_in_the_demo(FaultKind kind) =>
        Assert.Equal([], Demo.Value.Where(f => f.Kind == kind).Select(f => f.ToString()));

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Nothing_of_a_kind_is_wrong_in_analysed_works(FaultKind kind) =>
        Assert.Equal([], Works.Value.Where(f => f.Kind == kind).Select(f => f.ToString()));

    private static Fault[] Faults(params string[] folders) =>
    [
        .. folders.SelectMany(f => f == Places.TestData ? Directory.EnumerateFiles(f, "*.musicxml") : Places.Scores(f))
            .AsParallel().AsOrdered()
            .SelectMany(path => TruthCheck.Run(CueAnalysis.Of(ScoreFile.Load(path).Score)).Faults),
    ];
}
