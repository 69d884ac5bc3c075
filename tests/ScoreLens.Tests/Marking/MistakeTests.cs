using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Mistakes;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>One mistake is counted once, and costs no more than the assignment allows.</summary>
public sealed class MistakeTests
{
    [Fact]
    public void What_one_wrong_note_makes_wrong_is_one_mistake_with_its_parts()
    {
        // The alto has F where V7 needs its third: the third is missing, and the seventh doubled.
        var remarks = Check("C major", "V7 I", "F5 E5", "F4 C5", "D4 C4", "G3 C3");

        var grouped = MistakeGroups.Of(remarks);

        string[] oneEvent = ["doubled-seventh", "missing-third"];
        Assert.Superset(oneEvent.ToHashSet(), remarks.Select(r => r.Kind.Name()).ToHashSet());
        var mistake = Assert.Single(grouped, r => r.Parts.Count > 0 && oneEvent.Contains(r.Kind.Name()));
        Assert.Superset(oneEvent.ToHashSet(), mistake.Parts.Prepend(mistake).Select(r => r.Kind.Name()).ToHashSet());
        Assert.Equal(remarks.Count, grouped.Sum(r => 1 + r.Parts.Count));
    }

    [Fact]
    public void Mistakes_without_a_note_in_common_stay_apart()
    {
        // Fifths of tenor and bass, and octaves of soprano and alto.
        var remarks = Check("C major", "I ii", "E5 F5", "E4 F4", "G3 A3", "C3 D3");

        Assert.Equal(["parallel-fifths", "parallel-octaves"], MistakeGroups.Of(remarks).Select(r => r.Kind.Name())
            .Where(k => k.StartsWith("parallel", StringComparison.Ordinal)));
    }

    [Fact]
    public void Fifths_that_follow_each_other_are_so_many_mistakes()
    {
        var remarks = Check("C major", "I ii iii", "C5 D5 E5", "E4 F4 G4", "G3 A3 B3", "C3 D3 E3");

        Assert.Equal(2, MistakeGroups.Of(remarks).Count(r => r.Kind == RemarkKind.ParallelFifths));
    }

    [Fact]
    public void A_voice_out_of_its_range_is_one_mistake_until_it_is_back()
    {
        // The bass stays under E2 for three chords, and again at the end.
        var remarks = Check("C major", "I ii6 I I V I", "E5 D5 E5 E5 D5 E5", "G4 A4 G4 G4 G4 G4", "C4 D4 C4 C4 B3 C4", "C2 D2 C2 C3 G2 C2");

        Assert.True(remarks.Count(r => r.Kind == RemarkKind.Range) > 2);
        Assert.Equal([0, 5], MistakeGroups.Of(remarks).Where(r => r.Parts.Prepend(r).Any(p => p.Kind == RemarkKind.Range))
            .Select(r => (int)r.Onset.ToDouble()));
    }

    [Fact]
    public void Remarks_that_share_notes_in_one_progression_are_one_event()
    {
        // The tenor jumps over the alto: it crosses, leaps, and makes octaves with the soprano on the way.
        var remarks = Check("C major", "I V I", "E5 D5 E5", "G4 G4 G4", "C4 D5 C4", "C3 B2 C3");

        var mistake = Assert.Single(MistakeGroups.Of(remarks), r => r.Parts.Count > 0);
        Assert.Contains(RemarkKind.VoiceCrossing, mistake.Parts.Prepend(mistake).Select(r => r.Kind));
        Assert.True(mistake.Parts.Count > 1, $"Only {mistake.Parts.Count} parts.");
    }

    [Fact]
    public void A_limit_holds_for_a_kind_a_criterion_and_a_measure()
    {
        var remarks = Check("C major", "I ii iii IV", "C5 D5 E5 F5", "E4 F4 G4 A4", "G3 A3 B3 C4", "C3 D3 E3 F3")
            .Where(r => r.Kind == RemarkKind.ParallelFifths).Select(r => r with { Points = 2 }).ToList();

        Assert.Equal([2, 1, 0], Points(Limits(kind: 3)));
        Assert.Equal([2, 0.5, 0], Points(Limits(criterion: 2.5)));
        Assert.Equal([1, 0, 0], Points(Limits(measure: 1)));
        Assert.Equal([2, 2, 2], Points(CostLimits.None));
        Assert.True(Caps.Apply(remarks, Limits(kind: 3))[1].IsCapped);

        IEnumerable<double> Points(CostLimits limits) => Caps.Apply(remarks, limits).Select(r => r.Points);

        static CostLimits Limits(double? kind = null, double? criterion = null, double? measure = null) => new(
            kind is { } k ? new Dictionary<RemarkKind, double> { [RemarkKind.ParallelFifths] = k } : [],
            criterion is { } c ? new Dictionary<Criterion, double> { [Criterion.PartWriting] = c } : [],
            measure);
    }

    [Fact]
    public void The_band_of_a_rubric_is_the_highest_that_is_reached()
    {
        var assignment = AssignmentFile.Parse(
            "title: T\npoints: {part-writing: 20}\nbands:\n  - {from: 50, name: C}\n  - {from: 90, name: A, say: Excellent.}\n  - {from: "
                + "75, name: B}\n", AppContext.BaseDirectory);

        Assert.Equal(["A", "B", "B", "C", null], new double[] { 18, 17.9, 15, 10, 9 }.Select(t => assignment.BandOf(t)?.Name));
    }

    private static IReadOnlyList<Remark> Check(string key, string chords, params string[] voices)
    {
        var exercise = Exercise.Of(key, chords, voices);
        return PartWritingCheck.Run(exercise.Score, SonorityFinder.Find(exercise.Score), exercise.Reading, PartWritingOptions.Default);
    }
}
