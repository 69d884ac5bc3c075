using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using ScoreLens.Tests.Cli;
using ScoreLens.Theory;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Pipeline;

/// <summary>A file of several movements: each is read as if it stood in a file of its own.</summary>
public sealed class MovementTests
{
    private static readonly ScoreFile Suite = ScoreFile.Parse(InventedSuite.MusicXml());

    private static readonly CueAnalysis Analysis = CueAnalysis.Of(Suite.Score);

    [Fact]
    public void A_movement_begins_where_measure_numbers_begin_again()
    {
        var alone = InventedSuite.Cues.Select(c => ScoreFile.Load(c).Score).ToList();

        Assert.Equal(alone.Select(s => s.Measures.Count), Suite.Score.Movements.Select(m => m.Measures));
        Assert.Equal([1, 2, 3], Suite.Score.Movements.Select(m => m.Number));
        Assert.Equal(alone.Select(s => s.End), Suite.Score.Movements.Select(m => m.End - m.Start));
    }

    [Theory]
    [InlineData("1 2 3 4", "1 1 1 1")]
    [InlineData("0 1 2 3", "1 1 1 1")]
    [InlineData("1 2 3 1 2 3", "1 1 1 2 2 2")]
    [InlineData("1 2 3 0 1 2 3 1 2", "1 1 1 2 2 2 2 3 3")]
    // A pickup before a repeat, a measure split in two, a second ending that is numbered like the first, a last stray number.
    [InlineData("1 2 0 3 4", "1 1 1 1 1")]
    [InlineData("1 1 2 2 3", "1 1 1 1 1")]
    [InlineData("1 2 3 2 3 4", "1 1 1 1 1 1")]
    [InlineData("1 2 X1 3 1", "1 1 1 1 1")]
    public void Only_numbers_that_are_counted_on_begin_a_movement(string numbers, string movements)
    {
        var measures = numbers.Split(' ').Select((n, i) => $"""
            <measure number="{n}">{(i == 0 ? "<attributes><divisions>1</divisions></attributes>" : "")}
            <note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note></measure>
            """);
        var score = ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes($"""
            <score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
            <part id="P1">{string.Concat(measures)}</part></score-partwise>
            """)).Score;

        Assert.Equal(movements.Split(' ').Select(int.Parse), score.Measures.Select(m => m.Movement));
    }

    [Fact]
    public void Each_movement_is_read_as_in_a_file_of_its_own()
    {
        for (var i = 0; i < InventedSuite.Cues.Count; i++)
        {
            // Sentences name parts: by the names that the suite has for them.
            var score = ScoreFile.Load(InventedSuite.Cues[i]).Score with { Parts = Suite.Score.Parts };
            var (alone, within) = (CueAnalysis.Of(score), Analysis.Movements[i]);
            var shift = Suite.Score.Movements[i].Start;
            Assert.Equal(alone.Reading.HomeKey, within.Reading.HomeKey);
            Assert.Equal(Rows(alone, shift), Rows(within, Fraction.Zero));
            Assert.Equal(
                alone.Phrases.Select(p => (p.Start + shift, p.End + shift, p.Key, p.Cadence)),
                within.Phrases.Select(p => (p.Start, p.End, p.Key, p.Cadence)));
        }
    }

    [Fact]
    public void The_tables_of_the_file_are_those_of_its_movements_one_after_the_other()
    {
        var rows = ChordRow.Of(Analysis);

        Assert.Equal(Text(Analysis.Movements.SelectMany(m => ChordRow.Of(m))), Text(rows));
        Assert.Equal(rows.Select(r => r.Movement).Order(), rows.Select(r => r.Movement));
        Assert.Equal([1, 2, 3], rows.Select(r => r.Movement).Distinct());
        Assert.Equal(Enumerable.Range(1, Analysis.Phrases.Count), Analysis.Phrases.Select(p => p.Number));
        Assert.All(Analysis.Sonorities, s => Assert.Equal(Suite.Score.MeasureAt(s.Onset).Index, s.Measure));
        var (chords, phrases) = (new StringWriter(), new StringWriter());
        ChordTable.Write(rows, chords);
        PhraseTable.Write(PhraseRow.Of(Analysis, CueDensity.Of(Analysis, Band.Default)), phrases);
        var read = TabledCue.AllOf(
            "suite", ChordTable.Read(new StringReader(chords.ToString())), PhraseTable.Read(new StringReader(phrases.ToString())));
        Assert.Equal(TabledCue.AllOf("suite", Analysis).Select(c => (c.Title, c.Chords.Count, c.Phrases.Count)),
            read.Select(c => (c.Title, c.Chords.Count, c.Phrases.Count)));
        Assert.Equal("suite, movement 2", read[1].Title);
    }

    [Fact]
    public void A_movement_alone_can_be_written_into_its_file_and_taken_out_again()
    {
        var second = Analysis.Only(2);
        var written = ScoreFile.Parse(AnnotatedScore.Write(Suite.MusicXml!, second, LabelOptions.Default));
        var labels = MusicXmlReader.Read(written.MusicXml!, new ScoreReadOptions { KeepsOwnLabels = true });

        Assert.Contains(labels.Texts, t => t.IsOwn);
        Assert.All(labels.Texts.Where(t => t.IsOwn), t => Assert.Equal(2, labels.MeasureAt(t.Onset).Movement));
        Assert.Equal(InventedSuite.MusicXml(), AnnotatedScore.Strip(written.MusicXml!));
        Assert.Throws<ArgumentOutOfRangeException>(() => Analysis.Only(4));
    }

    [Fact]
    public void A_place_that_is_in_several_movements_is_refused_with_the_list()
    {
        using var folder = new ScratchFolder();
        File.WriteAllBytes(folder.At("suite.musicxml"), InventedSuite.MusicXml());

        var (status, _, error) = Run("explain", folder.At("suite.musicxml"), "--at", "8");
        Assert.Equal(2, status);
        Assert.Contains("measure 8 is in several movements: 1, 2, 3. Say which one with --movement N.", error, StringComparison.Ordinal);

        (status, var output, error) = Run("explain", folder.At("suite.musicxml"), "--at", "8", "--movement", "2");
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("movement 2, measure 8, beat 1", output, StringComparison.Ordinal);
        Assert.Contains($"home key    {Analysis.Movements[1].Reading.HomeKey}", output, StringComparison.Ordinal);

        (status, _, error) = Run("explain", folder.At("suite.musicxml"), "--at", "8", "--movement", "4");
        Assert.Equal(2, status);
        Assert.Contains("--movement 4: the file has the movements 1 to 3.", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Audit_and_compare_take_each_movement_as_a_cue_from_scores_and_from_tables()
    {
        using var folder = new ScratchFolder();
        File.WriteAllBytes(folder.At("suite.musicxml"), InventedSuite.MusicXml());
        Assert.Equal(0, Run("annotate", folder.At("suite.musicxml"), "--out", folder.At("out")).Status);

        var fromScore = Run("audit", folder.At("suite.musicxml")).Output;
        // Tables have no measures of their own, so the densest ones are not said of them.
        Assert.Equal(
            fromScore.Split('\n').Where(l => !l.StartsWith("  densest", StringComparison.Ordinal)),
            Run("audit", folder.At("out", "suite.chords.csv")).Output.Split('\n'));
        foreach (var n in (int[])[1, 2, 3]) Assert.Contains($"suite, movement {n}: ", fromScore, StringComparison.Ordinal);
        Assert.DoesNotContain("movement 1", Run("audit", folder.At("suite.musicxml"), "--movement", "3").Output, StringComparison.Ordinal);

        var compared = Run("compare", folder.At("suite.musicxml"), "--out", folder.At("compared")).Output;
        for (var i = 0; i < 3; i++)
            Assert.Matches($@"suite, movement {i + 1} +{Analysis.Movements[i].Reading.HomeKey} ", compared);
        var rows = File.ReadAllLines(folder.At("compared", "comparison.csv"));
        var at = Array.IndexOf(rows[0].Split(','), "movement");
        Assert.Equal(["1", "2", "3"], rows.Skip(1).Select(r => r.Split(',')[at]));
    }

    [Fact]
    public void A_movement_is_reduced_alone_from_its_own_first_measure()
    {
        using var folder = new ScratchFolder();
        File.WriteAllBytes(folder.At("suite.musicxml"), InventedSuite.MusicXml());
        Assert.Equal(0, Run("reduce", folder.At("suite.musicxml"), "--movement", "2", "--out", folder.At("out")).Status);
        Assert.Equal(0, Run("reduce", InventedSuite.Cues[1], "--out", folder.At("alone")).Status);

        var name = Path.GetFileNameWithoutExtension(InventedSuite.Cues[1]);
        Assert.Equal(
            Notes(folder.At("alone", $"{name}.reduction.mid")), Notes(folder.At("out", "suite.reduction.mid")));
        Assert.Equal(
            Notes(folder.At("alone", $"{name}.reduction.musicxml")), Notes(folder.At("out", "suite.reduction.musicxml")));

        static IEnumerable<(Pitch, Fraction, Fraction)> Notes(string path) =>
            ScoreFile.Load(path).Score.Notes.Select(n => (n.Pitch, n.Onset, n.Duration));
    }

    private static string Text(IEnumerable<ChordRow> rows)
    {
        using var text = new StringWriter();
        ChordTable.Write(rows, text);
        return text.ToString();
    }

    private static string[] Rows(CueAnalysis analysis, Fraction shift)
    {
        return Text(ChordRow.Of(analysis).Select(r => r with
        {
            Phrase = r.Phrase - analysis.Phrases[0].Number,
            Movement = 1,
            Chord = r.Chord with { Reading = r.Chord.Reading with { Onset = r.Chord.Reading.Onset + shift } },
        })).Split("\r\n");
    }
}
