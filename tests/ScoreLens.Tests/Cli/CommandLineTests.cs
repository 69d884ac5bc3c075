using ScoreLens.Cli;
using ScoreLens.Cli.Shared;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

public sealed class CommandLineTests
{
    [Theory]
    [InlineData("")]
    [InlineData("nonsense")]
    [InlineData("annotate")]
    [InlineData("annotate --bogus song.mxl")]
    [InlineData("annotate song.mxl --jobs 0")]
    [InlineData("annotate song.mxl --jobs many")]
    [InlineData("annotate song.mxl --band 30-20")]
    [InlineData("annotate song.mxl --band x")]
    [InlineData("annotate song.mxl --out")]
    [InlineData("explain song.mxl")]
    [InlineData("explain song.mxl --at 3:0")]
    public void A_wrong_command_line_ends_with_status_2_and_says_where_help_is(string line)
    {
        var (status, output, error) = Run(line.Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(2, status);
        Assert.Equal("", output);
        Assert.Contains("--help", error, StringComparison.Ordinal);
        Assert.DoesNotContain("System.", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("SCORE must be a file or a folder", "annotate", "")]
    [InlineData("--out takes a folder", "annotate", "song.mxl", "--out", "")]
    [InlineData("--start takes a file", "mark", "--start", "")]
    [InlineData("is a folder; give the assignment file", "mark", "song.mxl", "--assignment", ".")]
    public void What_is_empty_or_no_file_is_a_wrong_command_line_and_no_fault_of_the_program(string message, params string[] args)
    {
        var (status, output, error) = Run(args);
        Assert.Equal((2, ""), (status, output));
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("song.mid", "is no Standard MIDI File")]
    [InlineData("song.xml", "Not well-formed XML")]
    [InlineData("empty.mxl", "The file is empty; export it again.")]
    public void What_is_no_score_is_told_by_what_its_name_promises(string name, string message)
    {
        using var folder = new ScratchFolder();
        File.WriteAllText(folder.At(name), name == "empty.mxl" ? "" : "neither one nor the other");
        var (status, output, error) = Run("annotate", folder.At(name));
        Assert.Equal((3, ""), (status, output));
        Assert.Contains(message, error, StringComparison.Ordinal);
        Assert.Single(error.Trim().Split('\n'));
    }

    [Fact]
    public void Every_command_has_help_with_an_example_that_parses()
    {
        var root = CommandLine.Create();
        Assert.NotEmpty(root.Subcommands);
        foreach (var command in root.Subcommands)
        {
            var documented = Assert.IsType<DocumentedCommand>(command);
            Assert.NotEmpty(documented.Examples);
            var (status, output, _) = Run(command.Name, "--help");
            Assert.Equal(0, status);
            foreach (var example in documented.Examples)
            {
                Assert.Contains("scorelens " + example, output, StringComparison.Ordinal);
                Assert.Empty(CommandLine.Create().Parse(example).Errors);
            }
        }
    }

    [Fact]
    public void Help_and_version_are_answered_with_status_0()
    {
        Assert.Contains("Exit status", Run("--help").Output, StringComparison.Ordinal);
        Assert.Matches(@"^\d+\.\d+\.\d+", Run("--version").Output);
        Assert.Equal(0, Run("annotate", "--help").Status);
    }

    [Fact]
    public void One_unreadable_input_gives_status_3_and_the_others_are_done()
    {
        using var folder = new ScratchFolder();
        var good = folder.Score("good.musicxml");
        var bad = folder.At("bad.musicxml");
        File.WriteAllText(bad, "<score-partwise><part-list>");
        var (status, output, error) = Run("annotate", bad, folder.At("absent.mxl"), good, "--out", folder.At("out"));
        Assert.Equal(3, status);
        Assert.Contains("good.musicxml", output, StringComparison.Ordinal);
        Assert.Contains("bad.musicxml: line 1", error, StringComparison.Ordinal);
        Assert.Contains("absent.mxl: no such file", error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
        Assert.True(File.Exists(folder.At("out", "good.chords.csv")));
        Assert.False(File.Exists(folder.At("out", "bad.chords.csv")));
    }

    [Fact]
    public void Results_go_beside_the_input_into_a_folder_of_their_own()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var before = File.ReadAllBytes(score);
        Assert.Equal(0, Run("annotate", score, "--quiet").Status);
        Assert.Contains("song.scorelens/song.chords.csv", folder.Files());
        Assert.Contains("song.scorelens/song.phrases.csv", folder.Files());
        Assert.DoesNotContain("song.scorelens/song.json", folder.Files());
        Assert.Equal(before, File.ReadAllBytes(score));
    }

    [Fact]
    public void Quiet_prints_nothing_where_all_went_well()
    {
        using var folder = new ScratchFolder();
        var (status, output, error) = Run("annotate", folder.Score("song.musicxml"), "--quiet");
        Assert.Equal((0, "", ""), (status, output, error));
    }

    [Fact]
    public void A_folder_is_searched_through_and_its_levels_are_kept()
    {
        using var folder = new ScratchFolder();
        folder.Score("cues", "a.musicxml");
        folder.Score("cues", "deep", "a.musicxml");
        folder.Score("cues", ".hidden", "b.musicxml");
        File.WriteAllText(folder.At("cues", "notes.txt"), "no score");
        Assert.Equal(0, Run("annotate", folder.At("cues"), "--quiet", "--json").Status);
        Assert.Contains("cues.scorelens/a.json", folder.Files());
        Assert.Contains("cues.scorelens/deep/a.json", folder.Files());
        Assert.DoesNotContain(folder.Files(), f => f.StartsWith("cues.scorelens/.hidden", StringComparison.Ordinal));
    }

    [Fact]
    public void Results_of_ours_in_a_folder_are_not_taken_for_scores()
    {
        using var folder = new ScratchFolder();
        folder.Score("cues", "a.musicxml");
        folder.Score("cues", "a.scorelens", "a.musicxml");
        folder.Score("cues", "b.annotated.musicxml");
        var (status, output, _) = Run("annotate", folder.At("cues"), "--out", folder.At("out"));
        Assert.Equal(0, status);
        Assert.Single(output.Trim().Split('\n'));
    }

    // What is printed below the table is not of one cue.
    private static int Rows(string comparison) =>
        comparison.Trim().Split('\n').Skip(1).Count(l => !l.StartsWith("in ", StringComparison.Ordinal));

    [Theory]
    [InlineData("cues", "beside the scores")]
    [InlineData("cues/results", "below them")]
    public void Results_that_are_written_among_the_scores_are_not_read_with_them_next_time(string outFolder, string where)
    {
        Assert.NotEmpty(where);
        using var folder = new ScratchFolder();
        folder.Score("cues", "a.musicxml");
        folder.Score("cues", "deep", "b.musicxml");
        File.Copy(folder.At("cues", "a.musicxml"), folder.At("cues", "deep", "a.xml"));
        string cues = folder.At("cues"), results = folder.At(outFolder.Split('/'));
        var before = Run("compare", cues, "--quiet", "--out", results).Output;
        Assert.Equal(3, Rows(before));
        Run("annotate", cues, "--quiet", "--out", results);
        Run("annotate", cues, "--quiet", "--strip", "--out", results);
        Run("reduce", cues, "--quiet", "--out", results);
        Run("reharmonise", folder.At("cues", "a.musicxml"), "--at", "10", "--apply", "1", "--quiet", "--out", results);
        Assert.Equal(before, Run("compare", cues, "--quiet", "--out", results).Output);
        Assert.Equal(3, Run("annotate", cues, "--out", results).Output.Trim().Split('\n').Length);
    }

    [Fact]
    public void Where_the_score_is_not_there_its_tables_and_the_score_without_labels_are_read()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("a.musicxml");
        Run("annotate", score, "--quiet", "--out", folder.At("tables"));
        Run("annotate", score, "--quiet", "--strip", "--out", folder.At("plain"));
        Assert.StartsWith("a ", Run("compare", folder.At("tables"), "--quiet", "--out", folder.At("out")).Output.Split('\n')[1],
            StringComparison.Ordinal);
        Assert.StartsWith("a.stripped ", Run("compare", folder.At("plain"), "--quiet", "--out", folder.At("out")).Output.Split('\n')[1],
            StringComparison.Ordinal);
        // And what is named is read, whatever it is called.
        Assert.Equal(2, Rows(Run("compare", score, folder.At("tables", "a.chords.csv"), "--quiet", "--out", folder.At("out")).Output));
        var (status, _, error) = Run("annotate", folder.At("tables"));
        Assert.Equal(3, status);
        Assert.Contains("only scores that this program wrote", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Inputs_of_one_name_do_not_write_over_each_other()
    {
        using var folder = new ScratchFolder();
        var scores = new[] { folder.Score("one", "song.musicxml"), folder.Score("two", "song.musicxml"), folder.Score("two", "song.xml") };
        Assert.Equal(0, Run([.. scores.Prepend("annotate"), "--quiet", "--out", folder.At("out")]).Status);
        Assert.Equal(3, folder.Files().Count(f => f.StartsWith("out/", StringComparison.Ordinal)
            && f.EndsWith(".chords.csv", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_same_file_named_twice_is_done_once()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var (status, output, _) = Run("annotate", score, folder.At(".", "song.musicxml"));
        Assert.Equal(0, status);
        Assert.Single(output.Trim().Split('\n'));
    }

    [Fact]
    public void Results_replace_older_ones_and_leave_nothing_else_behind()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        Run("annotate", score, "--quiet");
        var (files, table) = (folder.Files(), folder.At("song.scorelens", "song.chords.csv"));
        File.WriteAllText(table, "old");
        Run("annotate", score, "--quiet");
        Assert.Equal(files, folder.Files());
        Assert.StartsWith("onset,", File.ReadAllText(table), StringComparison.Ordinal);
    }

    [Fact]
    public void An_output_folder_that_is_a_file_is_a_wrong_command_line()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var (status, _, error) = Run("annotate", score, "--out", score);
        Assert.Equal(2, status);
        Assert.Contains("--out", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("explain --at 12", "there is no measure 12; the measures are 1 to 1.", "measure 12, beat 1")]
    [InlineData("reharmonise --at 12", "there is no measure 12; the measures are 1 to 1.", "measure 12, beat 1")]
    [InlineData("reharmonise --phrase 3", "there is no phrase 3; ", "measure 12, beat 1")]
    [InlineData("reharmonise --at 12 --csv", "there is no measure 12; ", "long,12,1,F major,")]
    [InlineData("reharmonise --at 1 --apply 1", "--apply 1: nothing is offered in measure 1, beat 1.", "")]
    [InlineData("reharmonise --at 10 --apply 1", "there is no measure 10; ", "long.reharmonised.mid")]
    public void What_one_of_several_scores_has_not_is_said_of_it_and_the_others_are_done(string line, string problem, string result)
    {
        using var folder = new ScratchFolder();
        File.WriteAllText(folder.At("a-short.musicxml"), OneMeasure);
        folder.Score("long.musicxml");
        string[] args = line.Split(' '), writes = line.Contains("--apply", StringComparison.Ordinal) ? ["--out", folder.At("out")] : [];
        var (status, output, error) = Run([args[0], folder.Root, .. args[1..], .. writes]);
        Assert.Contains($"scorelens: {folder.At("a-short.musicxml")}: {problem}", error, StringComparison.Ordinal);
        // Where it fits none of them, it is the command line that is wrong.
        Assert.Equal(result.Length == 0 ? 2 : 3, status);
        Assert.Equal(result.Length == 0 ? 2 : 1, error.Trim().Split('\n').Length);
        if (result.EndsWith(".mid", StringComparison.Ordinal)) Assert.True(File.Exists(folder.At("out", result)));
        else Assert.Contains(result, output, StringComparison.Ordinal);
        var (alone, _, _) = Run([args[0], folder.At("a-short.musicxml"), .. args[1..], .. writes]);
        Assert.Equal(2, alone);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    public void Results_are_reported_in_the_order_of_the_inputs_however_many_jobs_work(int jobs)
    {
        using var folder = new ScratchFolder();
        var scores = Enumerable.Range(0, 6).Select(i => folder.Score($"song{i}.musicxml")).ToArray();
        var output = Run([.. scores.Prepend("annotate"), "--jobs", $"{jobs}", "--out", folder.At("out")]).Output;
        Assert.Equal(scores, output.Trim().Split('\n').Select(line => line.Split(": ")[0]));
    }

    private const string OneMeasure = """
        <?xml version="1.0"?>
        <score-partwise version="4.0">
          <part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>
          <part id="P1">
            <measure number="1">
              <attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
              <note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>
              <note><chord/><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>
              <note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>
            </measure>
          </part>
        </score-partwise>
        """;
}
