using ScoreLens.Keys;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Marking.Facts;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

public sealed class AssignmentFileTests
{
    private const string Small = "title: One\npoints: {labels: 60, part-writing: 40}\n";

    private static Assignment Read(string text) => AssignmentFile.Parse(text, AppContext.BaseDirectory);

    private static IReadOnlyList<AssignmentProblem> Problems(string text) => Assert.Throws<AssignmentFormatException>(() => Read(text))
        .Problems;

    [Fact]
    public void An_assignment_says_when_a_key_counts_as_new()
    {
        const string Head = "title: Keys\npoints: {labels: 60}\n";
        Assert.Equal(KeyRule.Confirm, AssignmentFile.Parse(Head, ".").Keys);
        Assert.Equal(KeyRule.Phrase, AssignmentFile.Parse(Head + "keys: phrase\n", ".").Keys);
        Assert.Throws<AssignmentFormatException>(() => AssignmentFile.Parse(Head + "keys: often\n", "."));
    }

    [Fact]
    public void The_example_to_start_from_is_a_valid_assignment()
    {
        var assignment = Read(AssignmentExample.Text);

        Assert.Equal("Chorale exercise 1", assignment.Title);
        Assert.Equal(100, assignment.OutOf);
        // Nothing is required that the tasks do not say.
        Assert.Empty(assignment.Required);
        Assert.Empty(assignment.Forbidden);
        Assert.Equal(1.5, assignment.PartWriting.WeightOf(PartWritingRules.Find("parallel-fifths")!));
        Assert.Equal(0, assignment.PartWriting.WeightOf(PartWritingRules.Find("melodic-tritone")!));
    }

    [Fact]
    public void An_unknown_key_is_refused_with_its_line_and_the_nearest_known_one()
    {
        var problem = Assert.Single(Problems(Small + "part-writting:\n  cost: 2\n"));

        Assert.Equal(3, problem.Line);
        Assert.Equal("an assignment has no key 'part-writting'; did you mean 'part-writing'?", problem.Message);
    }

    [Theory]
    [InlineData("part-writing:\n  rules:\n    parallel-fifhts: 2\n", 5, "did you mean 'parallel-fifths'?")]
    [InlineData("part-writing:\n  cost: two\n", 4, "cost takes a number from 0 to 100000, not 'two'.")]
    [InlineData("labels:\n  tolerance: long\n", 4, "tolerance takes a number of quarter notes")]
    [InlineData("labels:\n  compare-with: nodes\n", 4, "did you mean 'notes'?")]
    [InlineData("devices:\n  required: [neapolitain]\n", 4, "did you mean 'neapolitan'?")]
    [InlineData("balance:\n  band: 30-20\n", 4, "the lower one first")]
    [InlineData("due: soon\n", 3, "due takes a day")]
    [InlineData("model: nowhere.musicxml\n", 3, "there is no file nowhere.musicxml")]
    [InlineData("part-writing:\n  ranges: {alto: D5-G3}\n", 4, "the lower note first")]
    [InlineData("given:\n  voices: [sopran]\n", 4, "did you mean 'soprano'?")]
    [InlineData("overrule:\n  - kind: spacing\n", 4, "points is missing")]
    public void A_wrong_value_names_its_line_and_what_it_may_be(string text, int line, string message)
    {
        var problems = Problems(Small + text);

        Assert.Contains(problems, p => p.Line == line && p.Message.Contains(message, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_commented_key_of_the_example_is_valid_where_it_is_taken_in()
    {
        // Each commented block, without its sentences, with a value for every path.
        var lines = AssignmentExample.Text.Split('\n')
            .Select(l => System.Text.RegularExpressions.Regex.Replace(l, @"^(\s*)# (\s*(?:- |[a-z-]+:(?: |$)).*)$", "$1$2"))
            .Where(l => !l.Contains(".musicxml", StringComparison.Ordinal) && !l.TrimStart().StartsWith("due", StringComparison.Ordinal));
        var blocks = string.Join('\n', lines).Split("\n\n").Where(b => b.Contains("differences:", StringComparison.Ordinal)
            || b.Contains("at-most:", StringComparison.Ordinal) || b.Contains("bands:", StringComparison.Ordinal)
            || b.Contains("comments:", StringComparison.Ordinal) || b.Contains("devices:\n", StringComparison.Ordinal)).ToList();

        Assert.Equal(5, blocks.Count);
        Assert.All(blocks, b => Read(Small + b + "\n"));
    }

    [Fact]
    public void Json_is_read_as_well_and_names_its_lines()
    {
        Assert.True(Read("{\"title\": \"One\",\n \"points\": {\"labels\": 60},\n \"labels\": {\"answers\": \"hidden\"}}")
            .Labels.HidesAnswers);
        var problem = Assert.Single(Problems("{\"title\": \"One\",\n \"points\": {\"labels\": 60},\n \"labels\": {\"answers\": "
            + "\"secret\"}}"));
        Assert.Equal(3, problem.Line);
    }

    [Fact]
    public void Every_problem_is_told_at_once() =>
        Assert.Equal(3, Problems(Small + "due: soon\nlate-cost: many\nbalance: {bnd: 20-30}\n").Count);

    [Theory]
    [InlineData("")]
    [InlineData("- a\n- b\n")]
    [InlineData("title: [\n")]
    [InlineData("title: One\n")]
    [InlineData("points: {labels: 5}\n")]
    public void What_is_no_assignment_is_refused(string text) => Assert.NotEmpty(Problems(text));

    [Fact]
    public void Points_for_what_is_not_asked_are_refused()
    {
        var problem = Assert.Single(Problems("title: One\npoints:\n  devices: 10\n"));

        Assert.Contains("points are given for devices, but nothing is asked", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_day_without_a_time_lasts_until_its_end() =>
        Assert.Equal(new DateTime(2026, 11, 20, 23, 59, 59, DateTimeKind.Local), Read(Small + "due: 2026-11-20\n").Due);

    [Fact]
    public void A_range_is_read_for_the_voice_that_it_names_and_the_others_keep_theirs()
    {
        var ranges = Read(Small + "part-writing:\n  ranges: {alto: A3-C5}\n").PartWriting.Ranges;

        Assert.Equal(new VoiceRange(new Pitch(Tone.Of('A'), 3), new Pitch(Tone.Of('C'), 5)), ranges[1]);
        Assert.Equal(4, ranges.Count);
    }

    [Fact]
    public void An_overrule_covers_the_submission_kind_and_place_that_it_names()
    {
        var overrule = Assert.Single(Read(Small + "overrule:\n  - {submission: anna, kind: spacing, at: '3:2', points: 0}\n").Overrules);
        // Two measures of four quarters, then one: its second beat.
        var remark = RemarkAt(RemarkKind.Spacing, 9);

        Assert.True(overrule.Covers("anna", remark));
        Assert.False(overrule.Covers("ben", remark));
        Assert.False(overrule.Covers("anna", RemarkAt(RemarkKind.Spacing, 10)));
        Assert.False(overrule.Covers("anna", RemarkAt(RemarkKind.Range, 9)));
    }

    private static Remark RemarkAt(RemarkKind kind, int onset)
    {
        Measure[] measures = [.. Enumerable.Range(0, 3).Select(i => new Measure(i, $"{i + 1}", 4 * i, 4, TimeSignature.Common, 0))];
        return Remark.At(new Score("", [new Part(0, "P1", "", 1)], measures, [], [], [], []), onset, kind,
            new GivenNoteFacts(new Pitch(Tone.Of('C'), 4)));
    }
}
