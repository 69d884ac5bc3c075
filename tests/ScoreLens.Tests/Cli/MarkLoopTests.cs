using ScoreLens.Output.Tables;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

/// <summary>
/// The teacher's loop: remarks come out as a table, are edited and handed back, and stay decided when the class is marked again.
/// </summary>
public sealed class MarkLoopTests : IDisposable
{
    private static readonly string[] Columns =
        ["submission", "measure", "beat", "voices", "rule", "points", "text", "comment", "decision", "proposed_points", "proposed_text"];

    private readonly ScratchFolder _folder = new();

    public MarkLoopTests()
    {
        var source = Path.Combine(TestKit.Places.TestData, "homework");
        foreach (var name in (string[])["given.musicxml", "model.musicxml"]) File.Copy(Path.Combine(source, name), _folder.At(name));
        File.WriteAllText(
            _folder.At("a.yaml"), File.ReadAllText(Path.Combine(source, "assignment.yaml"))
                + "comments:\n  careful: Look at the bass first.\n");
        Directory.CreateDirectory(_folder.At("class"));
        foreach (var name in (string[])["ada", "anton", "tara"])
            File.Copy(Path.Combine(source, "class", $"{name}.musicxml"), _folder.At("class", $"{name}.musicxml"));
        File.WriteAllText(_folder.At("class.csv"), "name,identifier\nada,1\nanton,2\ntara,3\n");
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_remark_is_a_row_that_says_what_was_proposed()
    {
        Mark();

        var rows = Table();
        Assert.Equal(["anton", "tara", "tara", "tara", "tara"], rows.Select(r => r["submission"]));
        Assert.All(rows, r => Assert.Equal((r["points"], r["text"]), (r["proposed_points"], r["proposed_text"])));
        Assert.Contains(rows, r => r["rule"] == "parallel-fifths" && r["measure"] == "1" && r["beat"] == "3" && r["voices"].Length > 0);
    }

    [Fact]
    public void Points_texts_and_comments_that_were_changed_count_and_stay()
    {
        Mark();
        Edit(r => r["submission"] == "anton" ? With(r, ("points", "0.5"), ("text", "Hidden fifths, hardly heard."),
            ("comment", "@careful")) : r);

        foreach (var remarks in (string[])["edited.csv", ""])
        {
            Mark(remarks);
            Assert.Equal("99.5", Total("anton"));
            var page = File.ReadAllText(_folder.At("out", "anton.feedback.html"));
            Assert.Contains("Hidden fifths, hardly heard.", page, StringComparison.Ordinal);
            Assert.Contains("The teacher: Look at the bass first.", page, StringComparison.Ordinal);
            Assert.DoesNotContain("move in parallel fifths", page, StringComparison.Ordinal);
        }

        var row = Table().Single(r => r["submission"] == "anton");
        Assert.Equal(("0.5", "2"), (row["points"], row["proposed_points"]));
        Assert.Contains("move in parallel fifths", row["proposed_text"], StringComparison.Ordinal);
    }

    [Fact]
    public void A_remark_that_is_struck_out_costs_nothing_and_is_not_shown_but_can_be_taken_back()
    {
        Mark();
        Edit(r => r["submission"] == "anton" ? With(r, ("decision", "struck")) : r);
        Mark("edited.csv");
        Assert.Equal("100", Total("anton"));
        Assert.Contains("There are no remarks.", File.ReadAllText(_folder.At("out", "anton.feedback.html")), StringComparison.Ordinal);

        Edit(r => With(r, ("decision", "")));
        Mark("edited.csv");
        Assert.Equal("98", Total("anton"));
    }

    [Fact]
    public void Own_remarks_are_added_where_the_teacher_says()
    {
        Mark();
        Edit(
            r => r,
            Row(("submission", "ada"), ("measure", "2"), ("beat", "3"), ("rule", "part-writing"), ("points", "1.5"),
                ("text", "The tenor lies too low to sound.")));
        Mark("edited.csv");
        Assert.Equal("98.5", Total("ada"));
        Assert.Contains("The tenor lies too low to sound.", File.ReadAllText(_folder.At("out", "ada.feedback.html")),
            StringComparison.Ordinal);
        Mark();
        Assert.Equal("98.5", Total("ada"));
    }

    [Fact]
    public void Work_whose_remarks_are_all_signed_off_is_signed()
    {
        Mark();
        Edit(r => r["submission"] == "anton" ? With(r, ("decision", "signed")) : r);
        Mark("edited.csv");
        var rows = CsvFile.Load(_folder.At("out", "marks.csv"), "submission", "signed", "total");
        Assert.Equal(["", "yes", ""], rows.Select(r => r["signed"]));
        Assert.Equal("98", Total("anton"));
    }

    [Fact]
    public void A_decision_about_a_remark_that_is_not_made_any_more_is_reported_with_its_line()
    {
        Mark();
        Edit(r => r["submission"] == "anton" ? With(r, ("points", "0")) : r);
        File.Copy(_folder.At("class", "ada.musicxml"), _folder.At("class", "anton.musicxml"), overwrite: true);
        Assert.Contains("line 2: anton has no remark 'parallel-fifths' there any more", Mark("edited.csv"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("points", "many", "is not a number of points")]
    [InlineData("decision", "maybe", "is not struck, signed or empty")]
    public void A_cell_that_says_nothing_is_a_wrong_command_line_with_its_line(string column, string cell, string message)
    {
        Mark();
        Edit(r => With(r, (column, cell)));
        var (status, _, error) = Run("mark", _folder.At("class"), "--assignment", _folder.At("a.yaml"), "--out", _folder.At("out"),
            "--remarks", _folder.At("edited.csv"));
        Assert.Equal(2, status);
        Assert.Contains("line 2", error, StringComparison.Ordinal);
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_gradebook_has_identifier_points_and_comment()
    {
        Mark("", "--roster", _folder.At("class.csv"));
        var rows = CsvFile.Load(_folder.At("out", "gradebook.csv"), "identifier", "points", "comment");
        Assert.Equal(["1", "2", "3"], rows.Select(r => r["identifier"]));
        Assert.Equal(["100", "98"], rows.Take(2).Select(r => r["points"]));
        Assert.Contains("parallel fifths, once (m. 1)", rows[1]["comment"], StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_a_student_is_written_to_hand_back_without_names_if_wanted()
    {
        Mark("", "--roster", _folder.At("class.csv"), "--return", _folder.At("back"));
        Assert.True(File.Exists(_folder.At("back", "anton", "marked.musicxml")));
        Assert.Contains("anton", File.ReadAllText(_folder.At("back", "anton", "feedback.html")), StringComparison.Ordinal);

        Mark("", "--roster", _folder.At("class.csv"), "--return", _folder.At("secret"), "--anonymous");
        Assert.True(File.Exists(_folder.At("secret", "2", "marked.musicxml")));
        Assert.DoesNotContain("anton", File.ReadAllText(_folder.At("secret", "2", "feedback.html")), StringComparison.Ordinal);
    }

    [Fact]
    public void The_class_page_lists_every_remark_under_its_rule()
    {
        Mark();
        var page = File.ReadAllText(_folder.At("out", "class.html"));
        Assert.Contains("<summary>Parallel fifths (1)</summary>", page, StringComparison.Ordinal);
        Assert.Contains("<strong>anton</strong>, measure 1, beat 3:", page, StringComparison.Ordinal);
    }

    private string Mark(string remarks = "", params string[] more)
    {
        string[] edited = remarks.Length == 0 ? [] : ["--remarks", _folder.At(remarks)];
        var (status, _, error) = Run(["mark", _folder.At("class"), "--assignment", _folder.At("a.yaml"), "--out", _folder.At("out"),
            "--quiet", .. edited, .. more]);
        Assert.True(status is 0 or 1, error);
        return error;
    }

    private IReadOnlyList<IReadOnlyDictionary<string, string>> Table() => CsvFile.Load(_folder.At("out", "remarks.csv"), Columns);

    private void Edit(Func<IReadOnlyDictionary<string, string>, IReadOnlyDictionary<string, string>> edit,
        params IReadOnlyDictionary<string, string>[] more)
    {
        using var writer = File.CreateText(_folder.At("edited.csv"));
        CsvText.Write(writer, Columns, Table().Select(edit).Concat(more)
            .Select(r => (IReadOnlyList<string>)[.. Columns.Select(c => r[c])]));
    }

    private string Total(string name) => CsvFile.Load(_folder.At("out", "marks.csv"), "submission", "total")
        .First(r => r["submission"] == name)["total"];

    private static Dictionary<string, string> Row(params (string Column, string Cell)[] cells) =>
        Columns.ToDictionary(c => c, c => Array.Find(cells, x => x.Column == c).Cell ?? "");

    private static Dictionary<string, string> With(IReadOnlyDictionary<string, string> row, params (string Column, string Cell)[] cells) =>
        Columns.ToDictionary(c => c, c => cells.Any(x => x.Column == c) ? Array.Find(cells, x => x.Column == c).Cell : row[c]);
}
