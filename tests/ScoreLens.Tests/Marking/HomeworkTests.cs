using System.Globalization;
using ScoreLens.Cli;
using ScoreLens.Marking;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Marking.Results;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>The invented class of <c>testdata/homework</c>; <c>planted.csv</c> says which mistakes its generator made.</summary>
public sealed class HomeworkTests
{
    private static readonly string Folder = Path.Combine(Places.TestData, "homework");

    private static IReadOnlyList<IReadOnlyDictionary<string, string>> Planted =>
        CsvFile.Load(Path.Combine(Folder, "planted.csv"), "submission", "kind", "measure", "beat");

    [Fact]
    public void Every_planted_mistake_is_found_at_its_place()
    {
        var marker = new Marker(AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")));
        var marked = Directory.GetFiles(Path.Combine(Folder, "class")).Select(f => marker.MarkFile(Path.GetFileNameWithoutExtension(f), f))
            .ToDictionary(s => s.Name);

        Assert.Equal(30, marked.Count);
        foreach (var row in Planted.Where(r => r["measure"].Length > 0))
            Assert.Contains(marked[row["submission"]].Remarks.SelectMany(r => r.Parts.Prepend(r)), r => r.Kind.Name() == row["kind"]
                && r.Measure == row["measure"] && r.Beat.ToString() == row["beat"]);
        foreach (var clean in marked.Keys.Except(Planted.Select(r => r["submission"]))) Assert.Equal(100, marked[clean].Total);
        foreach (var submission in marked.Values.Where(s => s.IsMarked))
        {
            var lost = submission.Remarks.Where(r => r.Severity == Severity.Fault).Sum(r => r.Points);
            Assert.Equal(submission.OutOf - lost, submission.Total, 6);
        }
    }

    [Fact]
    public void The_class_is_marked_in_one_command_and_files_that_cannot_be_marked_stop_nothing()
    {
        var folder = Directory.CreateTempSubdirectory("scorelens-marking").FullName;
        try
        {
            using var output = new StringWriter(CultureInfo.InvariantCulture);
            using var error = new StringWriter(CultureInfo.InvariantCulture);

            var status = CommandLine.Run(["mark", Path.Combine(Folder, "class"), "--assignment", Path.Combine(Folder, "assignment.yaml"),
                "--out", folder], output, error);

            Assert.Equal(3, status);
            var rows = CsvFile.Load(Path.Combine(folder, "marks.csv"), "submission", "status", "reason", "total", "labels");
            Assert.Equal(30, rows.Count);
            Assert.Equal(
                new Dictionary<string, string>
                {
                    ["nils"] = "empty",
                    ["rosa"] = "unreadable",
                    ["vera"] = "wrong-file",
                    ["yusuf"] = "wrong-piece"
                },
                rows.Where(r => r["status"] != "marked").ToDictionary(r => r["submission"], r => r["reason"]));
            Assert.All(rows.Where(r => r["status"] != "marked"), r =>
                Assert.Equal(("look", "", ""), (r["status"], r["total"], r["labels"])));
            Assert.Equal(26, Directory.GetFiles(folder, "*.marked.musicxml").Length);
            Assert.Equal(26, Directory.GetFiles(folder, "*.feedback.html").Length);
            Assert.True(File.Exists(Path.Combine(folder, "class.html")));
            Assert.Contains("rosa.musicxml", error.ToString(), StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", error.ToString(), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // musescore3 of Debian; the remarks are found again by a script that shares nothing with the program.
    [Theory]
    [InlineData("ben", 3)]
    [InlineData("tara", 4)]
    [InlineData("zoe", 5)]
    public void Musescore_shows_every_remark_at_its_measure_and_beat(string name, int least)
    {
        using var folder = new Cli.ScratchFolder();
        CommandLine.Run(
            ["mark", Path.Combine(Folder, "class", $"{name}.musicxml"), "--assignment", Path.Combine(Folder, "assignment.yaml"), "--out",
                folder.Root, "--quiet"],
            TextWriter.Null, TextWriter.Null);
        var marked = $"{name}.marked.musicxml";
        var run = Annotation.Programs.Run(folder.Root, "musescore3", "-o", "exported.musicxml", marked);
        Assert.True(File.Exists(folder.At("exported.musicxml")), run.Output);

        var script = Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Marking", "remarks.py");
        var (status, wanted) = Annotation.Programs.Run(folder.Root, "python3", script, marked);
        Assert.True(status == 0, wanted);
        Assert.Equal(wanted, Annotation.Programs.Run(folder.Root, "python3", script, "exported.musicxml").Output);
        var lines = wanted.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.True(lines.Length >= least, wanted);

        // The script's places are those of the marking: quarters in 4/4 are its beats from 0.
        var submission = new Marker(AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")))
            .MarkFile(name, Path.Combine(Folder, "class", $"{name}.musicxml"));
        Assert.Equal(
            submission.Remarks.Select((r, i) => string.Create(CultureInfo.InvariantCulture,
                $"{i + 1} measure {r.Measure} quarter {(r.Beat - 1).ToDouble():0.###}")),
            lines.Select(l => l[..l.IndexOf(':', StringComparison.Ordinal)]));
    }

    [Fact]
    public void One_faultless_submission_leaves_status_0_and_a_faulty_one_status_1()
    {
        var folder = Directory.CreateTempSubdirectory("scorelens-marking").FullName;
        try
        {
            Assert.Equal(0, Run("ada"));
            Assert.Equal(1, Run("anton"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        int Run(string name) => CommandLine.Run(
            ["mark", Path.Combine(Folder, "class", $"{name}.musicxml"), "--assignment", Path.Combine(Folder, "assignment.yaml"), "--out",
                folder, "--quiet"],
            TextWriter.Null, TextWriter.Null);
    }

    [Fact]
    public void Late_work_is_marked_and_loses_what_the_assignment_says()
    {
        var assignment = AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")) with
        {
            Due = new DateTime(2000, 1, 1, 0, 0, 0,
            DateTimeKind.Local),
            LateCost = 7
        };

        var submission = new Marker(assignment).MarkFile("ada", Path.Combine(Folder, "class", "ada.musicxml"));

        Assert.Equal((SubmissionStatus.Late, 93.0), (submission.Status, submission.Total));
    }

    [Fact]
    public void A_given_note_that_is_changed_costs_points_and_is_named()
    {
        var assignment = AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")) with
        {
            Points = new Dictionary<Criterion,
            double>
            { [Criterion.GivenParts] = 10 }
        };
        var marker = new Marker(assignment);
        var original = File.ReadAllText(Path.Combine(Folder, "class", "ada.musicxml"));
        var at = original.IndexOf("<step>D</step>", StringComparison.Ordinal);
        var changed = string.Concat(original.AsSpan(0, at), "<step>E</step>", original.AsSpan(at + "<step>D</step>".Length));

        var kept = marker.Mark("kept", ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes(original)));
        var other = marker.Mark("changed", ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes(changed)));

        Assert.Equal(10, kept.Total);
        Assert.True(other.Total < 10);
        Assert.Contains(other.Remarks, r => r.Criterion == Criterion.GivenParts && r.Measure == "1"
            && r.Text.Contains("D5", StringComparison.Ordinal));
    }

    [Fact]
    public void Hidden_answers_stay_hidden_and_cost_the_same()
    {
        var shown = AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml"));
        var hidden = shown with { Labels = shown.Labels with { HidesAnswers = true } };
        var pages = 0;
        foreach (var file in Directory.GetFiles(Path.Combine(Folder, "class"), "*.musicxml"))
        {
            var name = Path.GetFileNameWithoutExtension(file);
            var (open, secret) = (new Marker(shown).MarkFile(name, file), new Marker(hidden).MarkFile(name, file));
            Assert.Equal(open.Total, secret.Total);
            Assert.Equal(open.Remarks.Select(r => (r.Kind.Name(), r.Onset, r.Points)),
                secret.Remarks.Select(r => (r.Kind.Name(), r.Onset, r.Points)));
            foreach (var (mark, remark) in secret.Labels?.Marks.Where(m => m.Remark is not null).Select(m => (m, m.Remark!)) ?? [])
            {
                // The answer, without its key, must not be a word of the remark, unless the student wrote it.
                var answer = mark.Expected.Split(' ')[0];
                var words = $"{remark.Text} {remark.Advice}".Replace($"“{mark.Written}”", "", StringComparison.Ordinal)
                    .Split(' ', '.', ',', ':', ';');
                Assert.DoesNotContain(answer, words);
                pages++;
            }
        }

        Assert.True(pages > 20);
    }

    [Fact]
    public void What_a_remark_on_a_label_says_to_sound_does_sound()
    {
        var assignment = AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")) with { ComparesWith = LabelSource.Notes };
        var marker = new Marker(assignment);
        var statements = 0;
        foreach (var file in Directory.GetFiles(Path.Combine(Folder, "class"), "*.musicxml"))
        {
            var submission = marker.MarkFile(Path.GetFileNameWithoutExtension(file), file);
            foreach (var remark in submission.Remarks.Where(r => r.Advice.StartsWith("The chord is made of ", StringComparison.Ordinal)))
            {
                statements++;
                var chord = submission.Analysis!.Reading.Chords.Last(c => c.Onset <= remark.Onset);
                var sounding = submission.Analysis.Sonorities.Where(s => s.Onset < chord.End && s.End > chord.Onset)
                    .SelectMany(s => s.Notes).Select(n => n.Pitch.Tone.PitchClass).ToHashSet();
                var named = remark.Advice["The chord is made of ".Length..].Split(':')[0].Split(' ');
                Assert.All(named, n => Assert.Contains(Tone.Parse(n.Replace('♯', '#').Replace('♭', 'b')).PitchClass, sounding));
            }
        }

        Assert.True(statements > 5, $"only {statements} statements");
    }

    [Fact]
    public void Labels_that_the_program_wrote_are_not_the_students()
    {
        var path = Path.Combine(Folder, "class", "ada.musicxml");
        var plain = AnnotatedScore.Strip(MusicXmlDocument.Load(path));
        var bare = MusicXmlDocument.Parse(System.Text.Encoding.UTF8.GetBytes(WithoutLyrics(plain)));
        var annotated = AnnotatedScore.Write(bare, CueAnalysis.Of(MusicXmlReader.Read(bare)), LabelOptions.Default);

        var submission = new Marker(AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml"))).Mark("ada", ScoreFile.Parse(annotated));

        Assert.Equal(0, submission.Labels!.Written);
        Assert.Equal(0, submission.Criteria.Single(c => c.Criterion == Criterion.Labels).Points);
        Assert.DoesNotContain("<level>ScoreLens analysis", System.Text.Encoding.UTF8.GetString(MarkedScore.Write(submission)!),
            StringComparison.Ordinal);

        static string WithoutLyrics(byte[] score) => System.Text.RegularExpressions.Regex.Replace(
            System.Text.Encoding.UTF8.GetString(score), "<lyric.*?</lyric>", "", System.Text.RegularExpressions.RegexOptions.Singleline);
    }

    [Fact]
    public void The_teacher_has_the_last_word()
    {
        var assignment = AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml")) with
        {
            Overrules = [new Overrule("anton", RemarkKind.ParallelFifths, null, null, 0, "I let this pass.")],
        };

        var submission = new Marker(assignment).MarkFile("anton", Path.Combine(Folder, "class", "anton.musicxml"));

        Assert.Equal(100, submission.Total);
        Assert.Contains(submission.Remarks, r => r.TeacherComment == "I let this pass.");
    }
}
