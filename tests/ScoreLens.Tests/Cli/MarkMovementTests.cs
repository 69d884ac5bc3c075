using System.Xml.Linq;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>Marking one movement of files that hold several exercises, one after the other.</summary>
public sealed class MarkMovementTests
{
    private static readonly string Homework = Path.Combine(Places.TestData, "homework");

    [Theory]
    [InlineData(1, "ada")]
    [InlineData(2, "ben")]
    public void A_movement_is_marked_as_the_exercise_alone_would_be(int movement, string alone)
    {
        using var folder = new ScratchFolder();
        Directory.CreateDirectory(folder.At("both"));
        Directory.CreateDirectory(folder.At("single"));
        Suite("ada", "ben").Save(folder.At("both", "student.musicxml"));
        File.Copy(Path.Combine(Homework, "class", $"{alone}.musicxml"), folder.At("single", "student.musicxml"));
        var several = Mark(folder, "both", "--movement", $"{movement}");
        var single = Mark(folder, "single");
        Assert.Equal(single.Marks, several.Marks);
        Assert.Equal(single.Remarks, several.Remarks);
        // What goes back holds that movement alone.
        var marked = XDocument.Load(folder.At("both-out", "student.marked.musicxml"));
        Assert.Equal(8, marked.Descendants("part").First().Elements("measure").Count());
    }

    [Fact]
    public void What_was_in_force_before_a_movement_is_stated_at_its_start()
    {
        using var folder = new ScratchFolder();
        Directory.CreateDirectory(folder.At("both"));
        Directory.CreateDirectory(folder.At("single"));
        var suite = Suite("ada", "ben");
        foreach (var part in suite.Descendants("part")) part.Elements("measure").ElementAt(8).Elements("attributes").Remove();
        suite.Save(folder.At("both", "student.musicxml"));
        File.Copy(Path.Combine(Homework, "class", "ben.musicxml"), folder.At("single", "student.musicxml"));
        Assert.Equal(Mark(folder, "single").Marks, Mark(folder, "both", "--movement", "2").Marks);
    }

    [Fact]
    public void A_movement_that_a_file_has_not_and_a_measure_that_several_have_are_said()
    {
        using var folder = new ScratchFolder();
        Directory.CreateDirectory(folder.At("both"));
        Suite("ada", "ben").Save(folder.At("both", "student.musicxml"));
        Assert.Contains("There is no movement 3: the file holds the movements 1 to 2.", Mark(folder, "both", "--movement", "3").Error,
            StringComparison.Ordinal);
        File.AppendAllText(folder.At("assignment.yaml"), "\noverrule:\n  - kind: parallel-fifths\n    at: 4\n    points: 0\n");
        Assert.Contains("The assignment names measure 4, which is in several movements of the file: 1, 2.", Mark(folder, "both").Error,
            StringComparison.Ordinal);
        Assert.DoesNotContain("several movements", Mark(folder, "both", "--movement", "2").Error, StringComparison.Ordinal);
    }

    private static XDocument Suite(string first, string second)
    {
        var suite = XDocument.Load(Path.Combine(Homework, "class", $"{first}.musicxml"));
        var more = XDocument.Load(Path.Combine(Homework, "class", $"{second}.musicxml"));
        foreach (var (part, follows) in suite.Descendants("part").Zip(more.Descendants("part"))) part.Add(follows.Elements("measure"));
        return suite;
    }

    private static (string Marks, string Remarks, string Error) Mark(ScratchFolder folder, string submissions, params string[] more)
    {
        foreach (var name in (string[])["assignment.yaml", "model.musicxml", "given.musicxml"])
            if (!File.Exists(folder.At(name))) File.Copy(Path.Combine(Homework, name), folder.At(name));
        var (_, _, error) = Run(["mark", folder.At(submissions), "--assignment", folder.At("assignment.yaml"), "--out",
            folder.At($"{submissions}-out"), "--quiet", .. more]);
        string Result(string name) => File.ReadAllText(folder.At($"{submissions}-out", name));
        return (Result("marks.csv"), Result("remarks.csv"), error);
    }
}
