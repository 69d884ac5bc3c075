using ScoreLens.Notation;
using ScoreLens.Tests.Annotation;
using Xunit;
using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

public sealed class ReduceTests
{
    [Fact]
    public void A_score_gives_its_reduction_as_a_score_and_as_MIDI()
    {
        using var folder = new ScratchFolder();
        var (status, output, error) = Run("reduce", folder.Score("song.musicxml"));
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("F major, 23 chords", output, StringComparison.Ordinal);
        Assert.Equal(["song.musicxml", "song.scorelens/song.reduction.mid", "song.scorelens/song.reduction.musicxml"], folder.Files());
        var score = ScoreFile.Load(folder.At("song.scorelens", "song.reduction.musicxml"), Annotations.WithOwnLabels).Score;
        Assert.Contains("V⁶₅/V", score.Texts.Select(t => t.Text));
        Assert.Equal("MThd"u8.ToArray(), File.ReadAllBytes(folder.At("song.scorelens", "song.reduction.mid"))[..4]);
    }

    [Fact]
    public void Labels_are_chosen_as_annotate_does()
    {
        using var folder = new ScratchFolder();
        Assert.Equal(0, Run("reduce", folder.Score("song.musicxml"), "--labels", "numerals", "--quiet").Status);
        var score = ScoreFile.Load(folder.At("song.scorelens", "song.reduction.musicxml"), Annotations.WithOwnLabels).Score;
        Assert.Empty(score.ChordSymbols);
        Assert.Contains("V⁶₅/V", score.Texts.Select(t => t.Text));
    }

    [Fact]
    public void A_reduction_in_a_folder_is_not_taken_for_a_score()
    {
        using var folder = new ScratchFolder();
        folder.Score("cues", "a.musicxml");
        folder.Score("cues", "a.reduction.musicxml");
        var (status, output, _) = Run("reduce", folder.At("cues"), "--out", folder.At("out"));
        Assert.Equal(0, status);
        Assert.Single(output.Trim().Split('\n'));
    }

    [Fact]
    public void A_MIDI_file_reduces_too_and_an_input_is_never_written_over()
    {
        using var folder = new ScratchFolder();
        Run("reduce", folder.Score("song.musicxml"), "--quiet", "--out", folder.Root);
        var midi = folder.At("song.reduction.mid");
        var before = File.ReadAllBytes(midi);
        Assert.Equal(0, Run("reduce", midi, "--quiet", "--out", folder.At("out")).Status);
        Assert.True(File.Exists(folder.At("out", "song.reduction.reduction.musicxml")));
        var (status, _, error) = Run("reduce", midi, folder.At("song.musicxml"), "--out", folder.Root);
        // The other input was done all the same.
        Assert.Equal(2, status);
        Assert.True(File.Exists(folder.At("song.reduction.reduction.mid")));
        Assert.Contains("written over", error, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(midi));
    }

    [Fact]
    public void What_is_no_score_gives_status_3_and_one_line()
    {
        using var folder = new ScratchFolder();
        File.WriteAllText(folder.At("bad.musicxml"), "<score-partwise>");
        var (status, output, error) = Run("reduce", folder.At("bad.musicxml"));
        Assert.Equal((3, ""), (status, output));
        Assert.Single(error.Trim().Split('\n'));
    }

    [Fact]
    public void A_plain_reduction_has_the_chord_of_the_key_behind_every_coloured_one()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        Assert.Equal(0, Run("reduce", score, "--plain", "--quiet").Status);
        var analysis = CueAnalysis.Of(ScoreFile.Load(score).Score);
        var plain = ScoreLens.Reharmonising.OtherReading.Plain(analysis);
        Assert.Contains(analysis.Chords, c => c.IsOutside);
        Assert.DoesNotContain(plain.Chords, c => c.IsOutside);
        var written = ScoreFile.Load(folder.At("song.scorelens", "song.plain.reduction.musicxml")).Score;
        // The augmented sixth of measure 11 (Db F Ab B in F major) stands for the subdominant over the sixth degree.
        Assert.Equal("IV6", plain.Chords.Single(c => c.Reading.Onset == 40).Reading.Numeral!.ToString());
        Assert.Equal([2, 5, 10], written.Notes.Where(n => n.Onset == 40).Select(n => n.Pitch.Tone.PitchClass).Distinct().Order());
    }
}
