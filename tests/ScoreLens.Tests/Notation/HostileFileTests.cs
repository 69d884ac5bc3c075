using System.IO.Compression;
using System.Text;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Output.Tables;
using ScoreLens.Tests.Cli;
using Xunit;

using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Notation;

/// <summary>Files made to do harm: refused, with the reason, before they keep the machine busy; each limit is the user's to set.</summary>
public sealed class HostileFileTests
{
    [Theory]
    [InlineData(200_000)]
    [InlineData(2_000_000)]
    public void Elements_nested_without_end_are_refused_with_their_line(int depth)
    {
        var nest = new StringBuilder("<score-partwise>\n");
        nest.Insert(nest.Length, "<x>", depth).Insert(nest.Length, "</x>", depth).Append("</score-partwise>");
        var error = Assert.Throws<ScoreFormatException>(() => Parse(nest.ToString()));
        Assert.Contains("more than 100 deep", error.Message, StringComparison.Ordinal);
        Assert.Equal("line 2", error.Place);
    }

    [Fact]
    public void The_depth_that_is_read_is_the_users_to_set()
    {
        var deep = Partwise(Divisions(1) + Nested(200) + Notes("C4 1"));
        Assert.Throws<ScoreFormatException>(() => Parse(deep));
        Assert.Single(Parse(deep, new ScoreLimits { MaxDepth = 300 }).Score.Notes);
        Assert.Throws<ScoreFormatException>(() => Parse(Partwise(Divisions(1) + Notes("C4 1")), new ScoreLimits { MaxDepth = 3 }));
    }

    [Fact]
    public void Depth_below_the_limit_is_read_whoever_made_it() =>
        Assert.Single(Parse(Partwise(Divisions(1) + Nested(80) + Notes("C4 1"))).Score.Notes);

    [Fact]
    public void A_file_larger_than_the_limit_is_not_read_to_its_end()
    {
        using var folder = new ScratchFolder();
        var path = folder.At("large.musicxml");
        File.WriteAllText(path, Partwise(Divisions(1) + Notes("C4 1")));
        var error = Assert.Throws<ScoreFormatException>(() => ScoreFile.Load(path, Under(new ScoreLimits { MaxFileBytes = 100 })));
        Assert.Contains("larger", error.Message, StringComparison.Ordinal);
        Assert.Single(ScoreFile.Load(path).Score.Notes);
    }

    [Fact]
    public void A_file_that_states_no_length_is_read_up_to_the_limit()
    {
        // A device without end.
        Assert.SkipUnless(File.Exists("/dev/zero"), "there is no /dev/zero");
        var options = Under(new ScoreLimits { MaxFileBytes = 1 << 20 });
        var error = Assert.Throws<ScoreFormatException>(() => ScoreFile.Load("/dev/zero", options));
        Assert.Contains("larger than 1 MiB", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void More_notes_than_the_limit_are_refused()
    {
        var xml = Partwise(Divisions(1) + Notes([.. Enumerable.Repeat("C4 1", 20)]));
        Assert.Equal(20, Parse(xml).Score.Notes.Count);
        var error = Assert.Throws<ScoreFormatException>(() => Parse(xml, new ScoreLimits { MaxNotes = 19 }));
        Assert.Contains("20 notes", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Thousands_of_notes_held_through_thousands_of_onsets_are_refused()
    {
        // Every note of a second voice enters one division later and lasts to the end: n notes, n onsets, n times n to reckon with.
        var held = new StringBuilder(Divisions(1));
        for (var i = 0; i < 8000; i++)
            held.Append(Note($"C4 {9000 - i}")).Append(Backup($"{9000 - i - 1}"));
        var error = Assert.Throws<ScoreFormatException>(() => Parse(Partwise(held.ToString())));
        Assert.Contains("at once", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Parts_and_measures_over_the_limits_are_refused()
    {
        var three = Parts([Notes("C4 1")], [Notes("C4 1")], [Notes("C4 1")]);
        Assert.Throws<ScoreFormatException>(() => Parse(three, new ScoreLimits { MaxParts = 2 }));
        Assert.Throws<ScoreFormatException>(() => Parse(three, new ScoreLimits { MaxMeasures = 2 }));
        Assert.Equal(3, Parse(three, new ScoreLimits { MaxParts = 3, MaxMeasures = 3 }).Score.Parts.Count);
    }

    [Fact]
    public void Entities_expand_up_to_the_limit()
    {
        var xml = "<!DOCTYPE score-partwise [<!ENTITY name \"" + new string('a', 1000) + "\">]>"
            + Partwise(Divisions(1) + Notes("C4 1")).Replace("Part 1", "&name;", StringComparison.Ordinal);
        Assert.Equal(1000, Parse(xml).Score.Parts[0].Name.Length);
        var error = Assert.Throws<ScoreFormatException>(() => Parse(xml, new ScoreLimits { MaxEntityCharacters = 999 }));
        Assert.Contains("entities", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("../../outside.xml")]
    [InlineData("a/../../outside.xml")]
    [InlineData("..\\outside.xml")]
    public void A_package_with_a_path_that_leads_out_of_it_is_refused(string name)
    {
        var score = Encoding.UTF8.GetBytes(Partwise(Divisions(1) + Notes("C4 1")));
        var error = Assert.Throws<ScoreFormatException>(() => ScoreFile.Parse(Package((name, score))));
        Assert.Contains("leads out", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_container_that_names_a_file_of_the_machine_gets_what_is_in_the_package()
    {
        using var folder = new ScratchFolder();
        File.WriteAllText(folder.At("outside.xml"), Partwise(Divisions(1) + Notes("G4 1")));
        var container = $"<container><rootfiles><rootfile full-path=\"{folder.At("outside.xml")}\"/></rootfiles></container>";
        var package = Package(
            ("META-INF/container.xml", Encoding.UTF8.GetBytes(container)),
            ("inside.xml", Encoding.UTF8.GetBytes(Partwise(Divisions(1) + Notes("C4 1")))));
        Assert.Equal("C4", ScoreFile.Parse(package).Score.Notes.Single().Pitch.ToString());
    }

    [Fact]
    public void A_package_of_more_files_or_more_bytes_than_the_limits_is_refused()
    {
        var score = Encoding.UTF8.GetBytes(Partwise(Divisions(1) + Notes("C4 1")));
        var package = Package(("s.xml", score), ("a.txt", [1]), ("b.txt", [2]));
        Assert.Throws<ScoreFormatException>(() => ScoreFile.Parse(package, Under(new ScoreLimits { MaxPackageFiles = 2 })));
        Assert.Throws<ScoreFormatException>(() => ScoreFile.Parse(package, Under(new ScoreLimits { MaxUnfoldedBytes = score.Length - 1 })));
        var wide = Under(new ScoreLimits { MaxPackageFiles = 3, MaxUnfoldedBytes = score.Length });
        Assert.Single(ScoreFile.Parse(package, wide).Score.Notes);
        var error = Assert.Throws<ScoreFormatException>(() => ScoreFile.Parse(Package(("s.xml", new byte[20 * 1024 * 1024]))));
        Assert.Contains("larger uncompressed", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Bytes_that_are_not_the_stated_encoding_are_read_with_a_warning_that_names_the_line()
    {
        var xml = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            + Partwise(Divisions(1) + Notes("C4 1")).Replace("<part-list>", "\n\n<part-list>", StringComparison.Ordinal)
                .Replace("Part 1", "Flöte", StringComparison.Ordinal);
        var file = ScoreFile.Parse(Encoding.Latin1.GetBytes(xml));
        Assert.Equal("Flöte", file.Score.Parts[0].Name);
        var warning = Assert.Single(file.Warnings);
        Assert.Equal("line 4", warning.Place);
        Assert.Contains("UTF-8", warning.Message, StringComparison.Ordinal);
        Assert.Empty(ScoreFile.Parse(Encoding.UTF8.GetBytes(xml)).Warnings);
    }

    [Fact]
    public void The_command_line_prints_the_warning_and_does_its_work()
    {
        using var folder = new ScratchFolder();
        var xml = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>"
            + Partwise(Divisions(1) + Notes("C4 4", "G4 4")).Replace("Part 1", "Flöte", StringComparison.Ordinal);
        File.WriteAllBytes(folder.At("song.musicxml"), Encoding.Latin1.GetBytes(xml));
        var (status, _, error) = ScratchFolder.Run("annotate", folder.At("song.musicxml"), "--out", folder.At("out"));
        Assert.Equal(0, status);
        Assert.Contains("song.musicxml: line 1: The file says that it is UTF-8", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\u0001")]
    [InlineData("&#1;")]
    [InlineData("\u001b[2J")]
    [InlineData("&#xFFFF;")]
    public void Control_characters_are_refused_with_their_line(string text)
    {
        var xml = "<?xml version=\"1.0\"?>\n" + Partwise(Divisions(1) + Notes("C4 1")).Replace("Part 1", text, StringComparison.Ordinal);
        Assert.Equal("line 2", Assert.Throws<ScoreFormatException>(() => Parse(xml)).Place);
    }

    [Theory]
    [InlineData("<divisions>0.000000001</divisions>")]
    [InlineData("<divisions>NaN</divisions>")]
    [InlineData("<divisions>Infinity</divisions>")]
    [InlineData("<time><beats>-3</beats><beat-type>4</beat-type></time>")]
    [InlineData("<time><beats>4</beats><beat-type>0</beat-type></time>")]
    [InlineData("<time><beats>999999999999999999999</beats><beat-type>4</beat-type></time>")]
    [InlineData("<key><fifths>2147483648</fifths></key>")]
    [InlineData("<transpose><chromatic>99999</chromatic></transpose>")]
    [InlineData("<staves>-1</staves>")]
    public void Nonsense_numbers_give_a_score_or_the_place_where_they_stand(string attribute)
    {
        try
        {
            var score = Parse(Partwise(Attributes(attribute) + Notes("C4 1"))).Score;
            Assert.All(score.Notes, n => Assert.True(n.Onset.Sign >= 0 && n.Duration.Sign >= 0));
            Assert.All(score.Measures, m => Assert.True(m.Time is { Beats: > 0, BeatType: > 0 }));
        }
        catch (ScoreFormatException e)
        {
            Assert.Contains("measure 1", e.Place, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_midi_file_of_more_notes_than_the_limit_is_refused()
    {
        var midi = MidiReaderBytes();
        Assert.Equal(3, MidiReader.Read(midi).Notes.Count);
        Assert.Throws<ScoreFormatException>(() => MidiReader.Read(midi, new ScoreLimits { MaxNotes = 2 }));
    }

    [Theory]
    [InlineData("=HYPERLINK(\"http://example.invalid\")")]
    [InlineData("+1+1")]
    [InlineData("-1+1")]
    [InlineData("@SUM(A1)")]
    [InlineData("\t=1")]
    public void A_cell_that_a_spreadsheet_would_run_stands_behind_an_apostrophe(string text)
    {
        Assert.Equal("'" + text, TableText.Safe(text));
        Assert.Equal(text, TableText.Unsafe(TableText.Safe(text)));
    }

    [Fact]
    public void A_submission_named_as_a_formula_is_text_in_the_table_of_marks()
    {
        using var folder = new ScratchFolder();
        var homework = Path.Combine(Places.TestData, "homework");
        File.Copy(Path.Combine(homework, "class", "ada.musicxml"), folder.At("=1+1.musicxml"));
        ScratchFolder.Run(
            "mark", folder.At("=1+1.musicxml"), "--assignment", Path.Combine(homework, "assignment.yaml"), "--out", folder.At("out"),
            "--quiet");
        Assert.StartsWith("'=1+1,", File.ReadAllLines(folder.At("out", "marks.csv"))[1], StringComparison.Ordinal);
    }

    private static ScoreFile Parse(string xml, ScoreLimits? limits = null) =>
        ScoreFile.Parse(Encoding.UTF8.GetBytes(xml), limits is null ? null : Under(limits));

    private static ScoreReadOptions Under(ScoreLimits limits) => new() { Limits = limits };

    private static string Nested(int depth) =>
        string.Concat(Enumerable.Repeat("<x>", depth)) + string.Concat(Enumerable.Repeat("</x>", depth));

    // Three quarter notes at 96 ticks, one after the other.
    private static byte[] MidiReaderBytes()
    {
        List<byte> track = [];
        foreach (var key in (byte[])[60, 64, 67]) track.AddRange([0, 0x90, key, 80, 96, 0x80, key, 0]);
        track.AddRange([0, 0xFF, 0x2F, 0]);
        return [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, .. "MTrk"u8, 0, 0, 0, (byte)track.Count, .. track];
    }

    private static byte[] Package(params (string Name, byte[] Content)[] files)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in files)
            {
                using var entry = zip.CreateEntry(name).Open();
                entry.Write(content);
            }
        }

        return memory.ToArray();
    }
}
