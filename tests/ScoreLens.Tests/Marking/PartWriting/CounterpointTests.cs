using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Marking.PartWriting.Species;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

/// <summary>
/// Two-part counterpoint in species. The cantus firmus in the Dorian mode and the counterpoint above it in the first species are Fux's own
/// (Gradus ad Parnassum, 1725, first book, first lesson; from memory); the others are small examples of our own after his rules.
/// </summary>
public sealed class CounterpointTests
{
    private const string Fux = "D4 F4 E4 D4 G4 F4 A4 G4 F4 E4 D4";

    [Fact]
    public void Fux_s_first_example_gets_no_remark() =>
        Assert.DoesNotContain(Check(1, "A4 A4 G4 A4 B4 C5 C5 B4 D5 C#5 D5", Fux), r => r.Kind != RemarkKind.CounterpointRepetition);

    [Fact]
    public void It_repeats_a_note_twice_and_once_is_allowed() =>
        Assert.Equal([24m], Check(1, "A4 A4 G4 A4 B4 C5 C5 B4 D5 C#5 D5", Fux).Select(r => (decimal)r.Onset.ToDouble()));

    // The counterpoint, the cantus firmus, the species, and the one remark with its place in whole notes. Whole notes unless a length
    // stands.
    [Theory]
    [InlineData("counterpoint-dissonance", 1, 1, "D5 B4 C#5 D5", "D4 F4 E4 D4")]
    [InlineData("counterpoint-dissonance", 1, 1, "D5 A4 C#5 D5", "D4 E4 E4 D4")]
    [InlineData("counterpoint-opening", 1, 0, "B4 A4 C#5 D5", "D4 F4 E4 D4")]
    [InlineData("counterpoint-cadence", 1, 3, "D5 A4 B4 D5", "D4 F4 G4 D4")]
    [InlineData("counterpoint-cadence", 1, 3, "D5 A4 G4 A4", "D4 F4 E4 D4")]
    [InlineData("counterpoint-unison", 1, 1, "D4 F4 C#4 D4", "D4 F4 E4 D4")]
    [InlineData("counterpoint-direct-motion", 1, 1, "A4 C5 C#5 D5", "C4 F4 E4 D4")]
    [InlineData("parallel-fifths", 1, 1, "A4 B4 C#5 D5", "D4 E4 E4 D4")]
    [InlineData("counterpoint-leap", 1, 2, "D5 A4 F#5 D5", "D4 F4 A4 D4")]
    [InlineData("counterpoint-climax", 1, 2, "A4 D5 D5 C#5 D5", "D4 F4 G4 E4 D4")]
    [InlineData("counterpoint-run", 1, 4, "D5 A4 B4 C5 D5 C#5 D5", "D4 F4 G4 A4 B4 E4 D4")]
    [InlineData("counterpoint-rhythm", 1, 1, "D5 A4:2 B4:2 C#5 D5", "D4 F4 E4 D4")]
    [InlineData("counterpoint-rhythm", 2, 1, "D5:2 C5:2 A4 C#5 D5", "D4 F4 G4 D4")]
    // A weak dissonance that is left by leap; on the strong half there is none at all.
    [InlineData("counterpoint-dissonance", 2, 0.5, "D5:2 C5:2 A4:2 C5:2 C#5 D5", "D4 F4 E4 D4")]
    [InlineData("counterpoint-strong-beats", 2, 1, "D5:2 B4:2 F5:2 D5:2 C#5 D5", "D4 F4 E4 D4")]
    // A suspension that rises.
    [InlineData("counterpoint-dissonance", 4, 2, "D5 A4:2 D5:4 E5:2 C#5 D5", "D4 F4 E4 E4 D4")]
    public void A_fault_is_found_at_its_place(string kind, int species, double measure, string line, string cantus)
    {
        var remarks = Check(species, line, cantus).Where(r => r.Kind.Name() == kind).ToArray();
        Assert.Contains(remarks, r => Math.Abs(r.Onset.ToDouble() - (4 * measure)) < 1e-9);
        Assert.All(remarks, r =>
        {
            Assert.EndsWith(".", r.Text, StringComparison.Ordinal);
            Assert.DoesNotContain("chord", r.Text, StringComparison.Ordinal);
        });
    }

    [Theory]
    // Passing in second species; passing, neighbour and cambiata in third; a 7–6 suspension in fourth.
    [InlineData(2, "D5:2 C5:2 A4:2 C5:2 C#5 D5", "D4 F4 E4 D4", 1)]
    [InlineData(3, "D5:1 E5:1 F5:1 E5:1 D5:1 C5:1 A4:1 B4:1 C#5 D5", "D4 F4 E4 D4", 0)]
    [InlineData(4, "R:2 A4:2 A4:2 D5:4 C#5:2 D5", "D4 F4 E4 D4", 1)]
    public void What_the_species_allows_passes(int species, string line, string cantus, int wrong) =>
        Assert.Equal(wrong == 1 && species == 2 ? 1 : 0,
            Check(species, line.Replace("R:2 A4:2", "A4:4", StringComparison.Ordinal), cantus)
                .Count(r => r.Kind == RemarkKind.CounterpointDissonance));

    [Fact]
    public void The_voices_are_called_by_their_place_and_no_chord_is_asked_for()
    {
        var remarks = Check(1, "D5 B4 C#5 D5", "D4 F4 E4 D4");
        Assert.Equal(["counterpoint", "cantus firmus"], remarks.First(r => r.Kind == RemarkKind.CounterpointDissonance).Voices);
        Assert.DoesNotContain(remarks, r => r.Kind == RemarkKind.MissingThird);
    }

    [Fact]
    public void Every_rule_has_a_source_and_a_weight_that_can_be_set()
    {
        var counterpoint = PartWritingOptions.Default with { Style = PartWritingStyle.Counterpoint };
        Assert.All(SpeciesRules.All.OfType<SpeciesRule>(), rule =>
        {
            Assert.NotEmpty(rule.Source);
            Assert.Equal(Criterion.PartWriting, rule.Kind.Criterion());
            Assert.Equal(0, counterpoint.With(rule.Name, 0).WeightOf(rule));
        });
    }

    [Fact]
    public void An_assignment_says_species_and_cantus_firmus_and_only_for_counterpoint()
    {
        const string Head = "title: Two voices\npoints: {part-writing: 60}\n";
        var options = AssignmentFile.Parse(Head + "part-writing: {style: counterpoint, species: 2, cantus-firmus: upper}\n",
            ".").PartWriting;
        Assert.Equal((PartWritingStyle.Counterpoint, 2, true, 2),
            (options.Style, options.Species, options.IsCantusUpper, options.VoiceCount));
        var problem = Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse(Head + "part-writing: {species: 2}\n", "."));
        Assert.Contains("counterpoint", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_class_s_table_has_its_columns_in_counterpoint_alone()
    {
        const string Head = "title: Voices\npoints: {part-writing: 60}\n";
        RemarkKind[] Kinds(string text) => [.. new Marker(AssignmentFile.Parse(text, ".")).Kinds];
        Assert.DoesNotContain(RemarkKind.CounterpointLeap, Kinds(Head));
        var counterpoint = Kinds(Head + "part-writing: {style: counterpoint}\n");
        Assert.Contains(RemarkKind.CounterpointLeap, counterpoint);
        Assert.DoesNotContain(RemarkKind.MissingThird, counterpoint);
    }

    private static IReadOnlyList<Remark> Check(int species, string line, string cantus)
    {
        var options = PartWritingOptions.Default with { Style = PartWritingStyle.Counterpoint, Species = species, VoiceCount = 2 };
        var (upper, lower) = (Whole(line), Whole(cantus));
        var exercise = Exercise.Of("D minor", $"i:{4 * cantus.Split(' ').Length}", upper, lower);
        return PartWritingCheck.Run(exercise.Score, SonorityFinder.Find(exercise.Score), exercise.Reading, options);
    }

    private static string Whole(string notes) =>
        string.Join(' ', notes.Split(' ').Select(n => n.Contains(':', StringComparison.Ordinal) ? n : n + ":4"));
}
