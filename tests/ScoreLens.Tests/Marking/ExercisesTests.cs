using System.Text.RegularExpressions;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>
/// The exercises that schools set: the file that <c>mark --start FILE --exercise NAME</c> writes, and the invented worked example of each
/// in <c>testdata/exercises</c>. The answers follow the rules that docs/partwriting.md lists with their sources.
/// </summary>
public sealed partial class ExercisesTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public static TheoryData<string> Names => [.. AssignmentExample.Exercises];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_worked_example_earns_full_points_under_the_start_file(string name)
    {
        Assert.Equal(AssignmentExample.For(name), File.ReadAllText(At(name, "assignment.yaml")));
        var marker = MarkerOf(name);
        var answers = Directory.GetFiles(At(name, "class"));
        Assert.NotEmpty(answers);
        foreach (var answer in answers)
        {
            var marked = marker.MarkFile("answer", answer);
            Assert.Equal(SubmissionStatus.Marked, marked.Status);
            Assert.Equal(100, marked.OutOf);
            Assert.Equal(marked.OutOf, marked.Total);
            Assert.Empty(marked.Remarks.Where(r => r.Severity == Severity.Fault));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Nothing_is_marked_that_the_tasks_do_not_ask_for(string name)
    {
        var assignment = AssignmentFile.Load(At(name, "assignment.yaml"));
        var tasks = string.Join(' ', assignment.Tasks);
        Assert.Equal(assignment.PointsFor(Criterion.Labels) > 0, tasks.Contains("the key and a Roman numeral", StringComparison.Ordinal)
            || tasks.Contains("the key and the Roman numerals", StringComparison.Ordinal));
        Assert.Equal(assignment.PointsFor(Criterion.PartWriting) > 0, tasks.Contains("according to the rules", StringComparison.Ordinal));
        Assert.Equal(assignment.PointsFor(Criterion.GivenParts) > 0, tasks.Contains("Keep the given", StringComparison.Ordinal)
            || tasks.Contains("Leave the notes", StringComparison.Ordinal));
        Assert.Equal(0, assignment.PointsFor(Criterion.Devices) + assignment.PointsFor(Criterion.Balance));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_score_that_is_handed_out_is_no_answer(string name)
    {
        var marked = MarkerOf(name).MarkFile("anyone", At(name, "given.musicxml"));
        Assert.False(marked.IsMarked);
        Assert.Contains(marked.Status, new[] { SubmissionStatus.Empty, SubmissionStatus.Unreadable });
    }

    [Theory]
    [InlineData("melody", "<text>vi</text>", "<text>IV</text>", "wrong-degree")]
    [InlineData("labels", "<text>vi</text>", "<text>IV</text>", "wrong-degree")]
    [InlineData("several-answers", "<text>vi</text>", "<text>IV</text>", "wrong-degree")]
    [InlineData("progression", "<text>vi</text>", "<text>IV</text>", "wrong-degree")]
    [InlineData("keyboard", "<text>V</text>", "<text>V6</text>", "wrong-inversion")]
    public void A_wrong_numeral_costs_points(string name, string right, string wrong, string kind) =>
        AssertFound(name, text => text.Replace(right, wrong, StringComparison.Ordinal), kind);

    [Theory]
    [InlineData("figured-bass", 3, "figure-not-realised")]
    [InlineData("inner-voices", 3, "given-note-changed")]
    [InlineData("species-1", 2, "given-note-changed")]
    [InlineData("species-2", 2, "given-note-changed")]
    [InlineData("species-3", 2, "given-note-changed")]
    [InlineData("species-4", 2, "given-note-changed")]
    public void A_wrong_note_costs_points(string name, int measure, string kind)
    {
        // In the figured bass the tenor's A and soprano's D of the six chord give way; elsewhere the last note of the measure, a given
        // bass, goes up a step.
        AssertFound(name, text =>
        {
            var (start, end) = (text.IndexOf($"<measure number=\"{measure}\">", StringComparison.Ordinal),
                text.IndexOf($"<measure number=\"{measure + 1}\">", StringComparison.Ordinal));
            var part = text[start..end];
            var changed = name == "figured-bass" ? part.Replace("<step>C</step>", "<step>D</step>", StringComparison.Ordinal)
                : LastStep().Replace(part, m => $"<step>{(char)('A' + ((m.Groups[1].Value[0] - 'A' + 1) % 7))}</step>", 1);
            Assert.NotEqual(part, changed);
            return text[..start] + changed + text[end..];
        }, kind);
    }

    [Fact]
    public void The_command_writes_the_start_file_and_names_the_exercises()
    {
        var path = _folder.At("bass.yaml");
        Assert.Equal(0, Run("mark", "--start", path, "--exercise", "figured-bass").Status);
        Assert.Equal(AssignmentExample.For("figured-bass"), File.ReadAllText(path));

        var (status, error) = Run("mark", "--start", _folder.At("other.yaml"), "--exercise", "figured");
        Assert.Equal(2, status);
        Assert.Contains("there is no exercise 'figured'; it is one of melody, figured-bass", error, StringComparison.Ordinal);
        Assert.Equal(2, Run("mark", "--exercise", "melody").Status);
        Assert.Throws<ArgumentException>(() => AssignmentExample.For("figured"));
    }

    public void Dispose() => _folder.Dispose();

    private void AssertFound(string name, Func<string, string> spoil, string kind)
    {
        var answer = Directory.GetFiles(At(name, "class")).Order(StringComparer.Ordinal).First();
        var text = File.ReadAllText(answer);
        var wrong = spoil(text);
        Assert.NotEqual(text, wrong);
        File.WriteAllText(_folder.At("wrong.musicxml"), wrong);
        var marked = MarkerOf(name).MarkFile("anyone", _folder.At("wrong.musicxml"));
        Assert.True(marked.Total < marked.OutOf);
        Assert.Contains(kind, marked.Remarks.SelectMany(r => r.Parts.Prepend(r)).Select(r => r.Kind.Name()));
    }

    private static (int Status, string Error) Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        return (ScoreLens.Cli.CommandLine.Run(args, output, error), error.ToString());
    }

    private static Marker MarkerOf(string name) => new(AssignmentFile.Load(At(name, "assignment.yaml")));

    private static string At(string name, string file) => Path.Combine(Places.TestData, "exercises", name, file);

    [GeneratedRegex("<step>([A-G])</step>", RegexOptions.RightToLeft)]
    private static partial Regex LastStep();
}
