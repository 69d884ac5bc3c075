using System.Text.RegularExpressions;
using ScoreLens.Marking.Assignments;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>The mark command from files to files, as a teacher runs it.</summary>
public sealed class MarkTests
{
    // I vi IV V, I ii65 V7 I: our own, after the rules of any harmony handbook.
    private const string Soprano = "E5 E5 C5 D5 C5 C5 B4 C5", Alto = "G4 A4 A4 G4 G4 A4 F4 E4", Tenor = "C4 C4 F4 B3 E4 D4 D4 C4", Bass =
        "C3 A2 F2 G2 C3 F2 G2 C3";

    private static readonly string[] Right = [Soprano, Alto, Tenor, Bass];

    [Fact]
    public void A_given_melody_is_kept_or_the_changed_note_is_named()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Soprano], null, "[soprano]");
        Hand(folder, "kept", Right);
        Hand(folder, "changed", [Soprano.Replace("D5", "B4", StringComparison.Ordinal), Alto, Tenor, Bass]);
        var rows = Mark(folder, 1);
        Assert.Equal(("marked", "10", "0"), (rows["kept"]["status"], rows["kept"]["given_parts"], rows["kept"]["given_note_changed"]));
        Assert.Equal(("marked", "9", "1"), (rows["changed"]["status"], rows["changed"]["given_parts"],
            rows["changed"]["given_note_changed"]));
        Assert.Contains("The given soprano has D5 here, not B4.", File.ReadAllText(folder.At("out", "changed.feedback.html")),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_given_bass_is_kept_or_the_missing_and_the_shortened_note_are_named()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Bass], null, "[bass]");
        Hand(folder, "kept", Right);
        Hand(folder, "changed", [Soprano, Alto, Tenor, "C3:2 F2 G2 C3 F2 G2:2"]);
        var rows = Mark(folder, 1);
        Assert.Equal("10", rows["kept"]["given_parts"]);
        // A2 and the last C3 are gone, the first C3 and the last G2 are longer.
        Assert.Equal(("6", "2", "2"), (rows["changed"]["given_parts"], rows["changed"]["given_note_missing"],
            rows["changed"]["given_note_length"]));
    }

    [Fact]
    public void A_figured_bass_is_realised_or_the_figure_is_named()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Bass], "- - - - - 6,5 7 -", "[bass]", "figures: yes");
        Hand(folder, "realised", Right);
        // The fifth over F is missing at 6 5, and V has no seventh.
        Hand(folder, "plain", [Soprano, "G4 A4 A4 G4 G4 A4 G4 E4", "C4 C4 F4 B3 E4 F4 D4 C4", Bass]);
        var rows = Mark(folder, 1);
        Assert.Equal(("10", "0"), (rows["realised"]["given_parts"], rows["realised"]["figure_not_realised"]));
        Assert.Equal(("8", "2"), (rows["plain"]["given_parts"], rows["plain"]["figure_not_realised"]));
        Assert.Contains("the figure 7 asks for", File.ReadAllText(folder.At("out", "plain.feedback.html")), StringComparison.Ordinal);
    }

    [Fact]
    public void Late_empty_unreadable_and_wrong_files_have_a_row_each_and_stop_nothing()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Bass], null, "[bass]", "figures: no", "due: 2026-01-10 12:00\nlate-cost: 3\n");
        foreach (var name in new[] { "early", "late" }) Hand(folder, name, Right);
        File.SetLastWriteTime(folder.At("class", "early.musicxml"), new DateTime(2026, 1, 10, 11, 59, 0, DateTimeKind.Local));
        File.SetLastWriteTime(folder.At("class", "late.musicxml"), new DateTime(2026, 1, 10, 12, 1, 0, DateTimeKind.Local));
        Hand(folder, "untouched", [Bass]);
        Hand(folder, "other-piece", ["F#5:4 G#5:4", "D#5:4 C#5:4", "B4:4 F#4:4", "B3:4 C#3:4"]);
        File.WriteAllText(folder.At("class", "cut.musicxml"), ExerciseFile.Write(Right)[..900]);
        File.WriteAllText(folder.At("class", "nothing.musicxml"), "");
        File.WriteAllText(folder.At("class", "scan.pdf"), "%PDF-1.4");
        File.WriteAllBytes(folder.At("class", "torn.mxl"), [0x50, 0x4B, 3, 4, 0, 0]);
        var rows = Mark(folder, 3);
        Assert.Equal(
            new Dictionary<string, string>
            {
                ["early"] = "marked",
                ["late"] = "late",
                ["untouched"] = "empty",
                ["other-piece"] = "wrong-piece",
                ["cut"] = "unreadable",
                ["nothing"] = "unreadable",
                ["scan"] = "wrong-file",
                ["torn"] = "unreadable",
            },
            rows.ToDictionary(r => r.Key, r => r.Value["reason"].Length > 0 ? r.Value["reason"] : r.Value["status"]));
        Assert.All(rows.Values.Where(r => r["reason"].Length > 0), r => Assert.Equal(("look", ""), (r["status"], r["total"])));
        Assert.Equal(("10", "7"), (rows["early"]["total"], rows["late"]["total"]));
        Assert.All(rows.Values.Where(r => r["status"] is not ("marked" or "late")), r => Assert.NotEmpty(r["message"]));
        Assert.Equal(["early.feedback.html", "late.feedback.html"], folder.Files()
            .Where(f => f.EndsWith("feedback.html", StringComparison.Ordinal)).Select(f => Path.GetFileName(f)!));
    }

    [Fact]
    public void A_folder_a_student_with_files_of_one_name_keeps_the_students_apart()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Bass], null, "[bass]");
        foreach (var name in new[] { "anna", "bert" })
        {
            Directory.CreateDirectory(folder.At("class", name));
            File.WriteAllText(folder.At("class", name, "homework.musicxml"), ExerciseFile.Write(Right));
        }

        Hand(folder, "clara", Right);
        var rows = Mark(folder, 0);
        Assert.Equal(["anna", "bert", "clara"], rows.Keys.Order(StringComparer.Ordinal));
        var page = File.ReadAllText(folder.At("out", "class.html"));
        Assert.All((string[])["anna/homework.feedback.html", "bert/homework.feedback.html", "clara.feedback.html"], link =>
        {
            Assert.Contains($"href=\"{link}\"", page, StringComparison.Ordinal);
            Assert.True(File.Exists(folder.At("out", link)));
        });
    }

    [Fact]
    public void An_empty_folder_and_a_model_answer_that_cannot_be_read_are_told_by_name()
    {
        using var folder = new ScratchFolder();
        Given(folder, [Bass], null, "[bass]");
        Directory.CreateDirectory(folder.At("class"));
        var (status, _, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"));
        Assert.Equal(3, status);
        Assert.Contains("the folder holds no score (.musicxml", error, StringComparison.Ordinal);
        Assert.DoesNotContain(".png", error, StringComparison.Ordinal);

        Hand(folder, "one", Right);
        File.WriteAllText(folder.At("model.musicxml"), ExerciseFile.Write(Right)[..900]);
        (status, _, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"), "--model",
            folder.At("model.musicxml"));
        Assert.Equal(3, status);
        Assert.StartsWith($"scorelens: {folder.At("model.musicxml")}: line ", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Start_writes_a_commented_assignment_that_is_accepted_and_never_writes_over_one()
    {
        using var folder = new ScratchFolder();
        Assert.Equal(0, Run("mark", "--start", folder.At("mine.yaml")).Status);
        Assert.Contains("# ", File.ReadAllText(folder.At("mine.yaml")), StringComparison.Ordinal);
        Assert.Equal("Chorale exercise 1", AssignmentFile.Load(folder.At("mine.yaml")).Title);
        Hand(folder, "one", Right);
        Assert.Equal(1, Run("mark", folder.At("class"), "--assignment", folder.At("mine.yaml"), "--out", folder.At("out"), "--quiet")
            .Status);
        var (status, _, error) = Run("mark", "--start", folder.At("mine.yaml"));
        Assert.Equal(2, status);
        Assert.Contains("not overwritten", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mistake_in_the_assignment_is_told_with_file_and_line_and_nothing_is_marked()
    {
        using var folder = new ScratchFolder();
        Hand(folder, "one", Right);
        File.WriteAllText(folder.At("a.yaml"), "title: One\npoints:\n  part-writing: 10\npart-writing:\n  rules:\n    paralel-fifths: 2\n");
        var (status, output, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"));
        Assert.Equal((3, ""), (status, output));
        Assert.Contains("a.yaml: line 6", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder.At("out")));
    }

    [Theory]
    [InlineData("--assignment FILE", "mark", "class")]
    [InlineData("needs the students' scores", "mark", "--assignment", "a.yaml")]
    [InlineData("--model", "mark", "class", "--assignment", "a.yaml", "--model", "nowhere.musicxml")]
    [InlineData("--points", "mark", "class", "--assignment", "a.yaml", "--points")]
    public void A_wrong_command_line_says_what_is_missing(string message, params string[] arguments)
    {
        using var folder = new ScratchFolder();
        Hand(folder, "one", Right);
        File.WriteAllText(folder.At("a.yaml"), "title: One\npoints: {part-writing: 10}\n");
        var (status, output, error) = Run([.. arguments.Select(a => a is "class" or "nowhere" || a.Contains('.', StringComparison.Ordinal)
            ? folder.At(a) : a), "--out", folder.At("out")]);
        Assert.Equal(2, status);
        Assert.Empty(output);
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    private static void Given(ScratchFolder folder, string[] voices, string? figures, string names, string more = "", string top = "")
    {
        File.WriteAllText(folder.At("given.musicxml"), ExerciseFile.Write(voices, figures));
        File.WriteAllText(folder.At("a.yaml"), $"title: Given\n{top}points: {{given-parts: 10}}\ngiven:\n  score: given.musicxml\n  "
            + $"voices: {names}\n  {more}\n");
    }

    private static void Hand(ScratchFolder folder, string name, string[] voices)
    {
        Directory.CreateDirectory(folder.At("class"));
        File.WriteAllText(folder.At("class", $"{name}.musicxml"), ExerciseFile.Write(voices));
    }

    private static Dictionary<string, Dictionary<string, string>> Mark(ScratchFolder folder, int expected)
    {
        var (status, _, error) = Run("mark", folder.At("class"), "--assignment", folder.At("a.yaml"), "--out", folder.At("out"), "--quiet");
        Assert.Equal(expected, status);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
        var rows = Rows(File.ReadAllText(folder.At("out", "marks.csv"))).ToList();
        return rows.Skip(1).Select(r => rows[0].Zip(r).ToDictionary(c => c.First, c => c.Second)).ToDictionary(r => r["submission"]);
    }

    // RFC 4180.
    private static IEnumerable<string[]> Rows(string text)
    {
        var row = new List<string>();
        foreach (Match cell in Regex.Matches(text, """(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r?\n)"""))
        {
            row.Add(cell.Groups[1].Success ? cell.Groups[1].Value.Replace("\"\"", "\"", StringComparison.Ordinal) : cell.Groups[2].Value);
            if (cell.Groups[3].Value == ",") continue;
            yield return [.. row];
            row.Clear();
        }
    }
}
