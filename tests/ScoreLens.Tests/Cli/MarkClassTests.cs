using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>Who is who in a class as it is handed in: folders, rosters, copies, files of earlier runs.</summary>
public sealed class MarkClassTests
{
    private static readonly string[] Voices =
        ["E5 E5 C5 D5 C5 C5 B4 C5", "G4 A4 A4 G4 G4 A4 F4 E4", "C4 C4 F4 B3 E4 D4 D4 C4", "C3 A2 F2 G2 C3 F2 G2 C3"];

    [Fact]
    public void The_folder_is_the_student_whatever_the_file_is_called()
    {
        using var folder = Class(("anna", "chorale final"), ("bert", "score"), ("clara", "score"));
        var rows = Mark(folder, 0);
        Assert.Equal(["anna", "bert", "clara"], rows.Select(r => r["submission"]));
        Assert.True(File.Exists(folder.At("out", "anna", "chorale final.feedback.html")));
    }

    [Fact]
    public void Of_work_handed_in_twice_the_latest_counts_and_it_is_said()
    {
        using var folder = Class(("anna", "first"), ("anna", "second"), ("", "bert"), ("", "bert (1)"));
        File.WriteAllText(folder.At("class", "anna", "second.musicxml"), ExerciseFile.Write([Voices[0].Replace('D', 'B'), .. Voices[1..]]));
        Touch(folder, 1, "class", "anna", "first.musicxml");
        Touch(folder, 2, "class", "anna", "second.musicxml");
        Touch(folder, 3, "class", "bert.musicxml");
        Touch(folder, 1, "class", "bert (1).musicxml");
        var rows = Mark(folder, 1);
        Assert.Equal(["anna", "bert"], rows.Select(r => r["submission"]).Order(StringComparer.Ordinal));
        Assert.Equal("1", Row(rows, "anna")["given_note_changed"]);
        Assert.Contains("Handed in twice: anna/second.musicxml counts, the latest; anna/first.musicxml does not.",
            Row(rows, "anna")["message"], StringComparison.Ordinal);
        Assert.Contains("bert.musicxml counts", Row(rows, "bert")["message"], StringComparison.Ordinal);
    }

    [Fact]
    public void A_roster_shows_who_is_missing_and_who_is_not_on_it()
    {
        using var folder = Class(("", "Anna_Ås"), ("", "guest"));
        File.WriteAllText(folder.At("class.csv"), "name,identifier,file\nAnna Ås,17,\nBert,18,\n\"Ce, Clara\",19,cc\n");
        var rows = Mark(folder, 1, "--roster", folder.At("class.csv"));
        Assert.Equal(["Anna Ås", "Bert", "Ce, Clara", "guest"], rows.Select(r => r["submission"]));
        Assert.Equal(["17", "18", "19", ""], rows.Select(r => r["identifier"]));
        Assert.Equal(["marked", "missing", "missing", "marked"], rows.Select(r => r["status"]));
        Assert.Equal(["10", "", "", "10"], rows.Select(r => r["total"]));
        Assert.Contains("Not on the roster.", rows[3]["message"], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("student,number\nAnna,1\n", "no column 'name'")]
    [InlineData("name\nAnna\nANNA\n", "cannot tell 'Anna' and 'ANNA' apart")]
    public void A_roster_that_names_nobody_is_a_wrong_command_line(string text, string message)
    {
        using var folder = Class(("", "anna"));
        File.WriteAllText(folder.At("class.csv"), text);
        var (status, _, error) = Run(
            "mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"), "--roster", folder.At("class.csv"));
        Assert.Equal(2, status);
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_file_of_two_students_is_said_of_both()
    {
        using var folder = Class(("", "anna"), ("", "bert"), ("", "clara"));
        File.AppendAllText(folder.At("class", "clara.musicxml"), "\n");
        var rows = Mark(folder, 0);
        Assert.Equal("The same file as that of bert.", Row(rows, "anna")["message"]);
        Assert.Equal("The same file as that of anna.", Row(rows, "bert")["message"]);
        Assert.Equal("", Row(rows, "clara")["message"]);
    }

    [Fact]
    public void Scores_of_the_assignment_in_the_class_folder_are_no_students()
    {
        using var folder = Class(("", "anna"));
        File.Copy(folder.At("given.musicxml"), folder.At("class", "given.musicxml"));
        Assert.Equal(["anna"], Mark(folder, 0).Select(r => r["submission"]));
    }

    [Fact]
    public void Results_of_an_earlier_run_are_replaced_and_those_of_nobody_reported()
    {
        using var folder = Class(("", "anna"), ("", "bert"));
        Mark(folder, 0);
        File.Delete(folder.At("class", "bert.musicxml"));
        var (_, _, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"), "--quiet");
        Assert.Contains("bert.feedback.html: left from an earlier run", error, StringComparison.Ordinal);
        Assert.Contains("bert.marked.musicxml: left from an earlier run", error, StringComparison.Ordinal);
        Assert.DoesNotContain("anna", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_decision_about_nobody_is_an_error_with_its_line_and_the_nearest_name()
    {
        using var folder = Class(("", "good"), ("", "better"));
        File.AppendAllText(folder.At("a.yaml"), "overrule:\n  - {submission: goood, points: 0}\n");
        var (status, _, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"));
        Assert.Equal(3, status);
        Assert.Contains("a.yaml: line 7: overrule: there is no submission 'goood'; did you mean 'good'?", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder.At("out")));
    }

    [Fact]
    public void A_model_that_is_the_submission_itself_is_refused()
    {
        using var folder = Class(("", "anna"));
        var score = folder.At("class", "anna.musicxml");
        var (status, _, error) = Run("mark", score, "--assignment", folder.At("a.yaml"), "--out", folder.At("out"), "--model", score);
        Assert.Equal(2, status);
        Assert.Contains("is the SCORE itself", error, StringComparison.Ordinal);
    }

    private static ScratchFolder Class(params (string Folder, string Name)[] files)
    {
        var folder = new ScratchFolder();
        File.WriteAllText(folder.At("given.musicxml"), ExerciseFile.Write([Voices[0]]));
        File.WriteAllText(folder.At("a.yaml"), "title: Given\npoints: {given-parts: 10}\ngiven:\n  score: given.musicxml\n  voices: "
            + "[soprano]\n");
        var number = 0;
        foreach (var (inner, name) in files)
        {
            Directory.CreateDirectory(folder.At("class", inner));
            // Every student's file differs from the others by a comment, but for anna's and bert's of one name length.
            var text = ExerciseFile.Write(Voices);
            File.WriteAllText(folder.At("class", inner, $"{name}.musicxml"), inner.Length > 0 ? $"{text}<!-- {number++} -->" : text);
        }

        return folder;
    }

    private static void Touch(ScratchFolder folder, int day, params string[] path) =>
        File.SetLastWriteTime(folder.At(path), new DateTime(2026, 1, day, 12, 0, 0, DateTimeKind.Local));

    private static IReadOnlyDictionary<string, string> Row(IReadOnlyList<IReadOnlyDictionary<string, string>> rows, string name) =>
        rows.First(r => r["submission"] == name);

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Mark(ScratchFolder folder, int expected, params string[] more)
    {
        var (status, _, error) = Run(["mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"),
            "--quiet", .. more]);
        Assert.True(status == expected, error);
        return CsvFile.Load(folder.At("out", "marks.csv"), "submission", "status", "total", "message", "identifier", "given_note_changed");
    }
}
