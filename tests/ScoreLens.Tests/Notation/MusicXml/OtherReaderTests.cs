using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Tests.Annotation;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Notation.MusicXml;

/// <summary>
/// What another program makes of the same files: a notation program (Debian's musescore3) exports them as MIDI, and onsets and
/// sounding pitches are compared. Files with repeats and ornaments are left out, since it plays them.
/// </summary>
public sealed class OtherReaderTests
{
    [Theory]
    [InlineData("conformance/03b-Rhythm-Backup.xml")]
    [InlineData("conformance/03c-Rhythm-DivisionChange.xml")]
    [InlineData("conformance/21c-Chords-ThreeNotesDuration.xml")]
    [InlineData("conformance/33b-Spanners-Tie.xml")]
    [InlineData("conformance/43d-MultiStaff-StaffChange.xml")]
    [InlineData("conformance/46i-OverfullMeasures.xml")]
    [InlineData("conformance/72a-TransposingInstruments.xml")]
    [InlineData("conformance/72b-TransposingInstruments-Full.xml")]
    [InlineData("works/open/chorales/Bach-Johann-Sebastian_Chorales_054/score.mxl")]
    [InlineData("works/open/textbooks/Aldwell-Edward_Harmony-and-Voice-Leading_7/score.mxl")]
    public void Onsets_and_sounding_pitches_are_those_that_another_program_plays(string file)
    {
        var path = Places.External(file.Split('/'));
        using var folder = new ScratchFolder();
        var run = Programs.Run(folder.Root, "musescore3", "-o", "played.mid", path);
        Assert.True(File.Exists(folder.At("played.mid")), run.Output);
        var ours = SonorityFinder.JoinTies(ScoreFile.Load(path).Score.Notes).Select(n => (n.Onset, n.Pitch.Midi)).Distinct().Order();
        var theirs = ScoreFile.Load(folder.At("played.mid")).Score.Notes.Select(n => (n.Onset, n.Pitch.Midi)).Distinct().Order();
        Assert.Equal(theirs, ours);
    }
}
