using System.Diagnostics;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
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
    [InlineData("corpus/open/chorales/Bach-Johann-Sebastian_Chorales_006/score.mxl")]
    [InlineData("corpus/open/keyboard/Bach-Johann-Sebastian_The-Well-Tempered-Clavier-I_01/score.mxl")]
    public void Onsets_and_sounding_pitches_are_those_that_another_program_plays(string file)
    {
        var path = SharedFiles.Path(file);
        var program = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Select(p => Path.Combine(p, "musescore3")).FirstOrDefault(File.Exists);
        Assert.SkipWhen(program is null, "musescore3 is not installed.");
        var midi = Path.Combine(Directory.CreateTempSubdirectory("scorelens").FullName, "played.mid");
        try
        {
            var start = new ProcessStartInfo(program!, ["-platform", "offscreen", "-o", midi, path]) { RedirectStandardOutput = true, RedirectStandardError = true };
            using var process = Process.Start(start)!;
            process.BeginOutputReadLine();
            process.BeginErrorReadLine();
            Assert.SkipUnless(process.WaitForExit(TimeSpan.FromMinutes(2)) && File.Exists(midi), "musescore3 exports no MIDI here.");
            var ours = SonorityFinder.JoinTies(ScoreFile.Load(path).Score.Notes).Select(n => (n.Onset, n.Pitch.Midi)).Distinct().Order();
            var theirs = ScoreFile.Load(midi).Score.Notes.Select(n => (n.Onset, n.Pitch.Midi)).Distinct().Order();
            Assert.Equal(theirs, ours);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(midi)!, recursive: true);
        }
    }
}
