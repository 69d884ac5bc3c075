using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>What other programs make of annotated scores: Debian's musescore3 and lilypond.</summary>
public sealed class EngravingTests
{
    /// <summary>A chorale, a song with verses of its own, a piano piece, an orchestral one.</summary>
    public static TheoryData<string> Works =>
    [
        "corpus/open/chorales/*_124*",
        "corpus/open/songs/Hensel-Fanny-Mendelssohn_6-Lieder-Op-9_2-Ferne",
        "corpus/open/keyboard/*_The-Well-Tempered-Clavier-I_04",
        "corpus/open/orchestral/*",
    ];

    [Theory]
    [MemberData(nameof(Works))]
    public void Musescore_exports_every_label_at_its_note(string work)
    {
        var parent = Places.Shared(Path.GetDirectoryName(work)!);
        var folder = Directory.EnumerateDirectories(parent, Path.GetFileName(work)).Order(StringComparer.Ordinal).FirstOrDefault()
            ?? Directory.EnumerateDirectories(parent).Order(StringComparer.Ordinal).First();
        var source = MusicXmlDocument.Load(Path.Combine(folder, "score.mxl"));
        CheckExport(source, CueAnalysis.Of(MusicXmlReader.Read(source)));
    }

    [Fact]
    public void Musescore_exports_the_labels_of_a_transposing_wind_part_at_their_notes()
    {
        var source = MusicXmlDocument.Load(Path.Combine(Places.TestData, "reed-tune.musicxml"));
        CheckExport(source, Readings.OfReedTune(source));
    }

    [Fact]
    public void Lilypond_reads_and_engraves_an_annotated_score()
    {
        using var scratch = new Scratch();
        var source = MusicXmlDocument.Load(Path.Combine(Places.TestData, "reed-tune.musicxml"));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), AnnotatedScore.Write(source, Readings.OfReedTune(source), LabelOptions.Default));
        Assert.Equal(0, Programs.Run(scratch.Folder, "musicxml2ly", "-o", "annotated.ly", "annotated.musicxml").Status);
        // The converter wraps its lines.
        var text = string.Join(' ', File.ReadAllText(scratch.At("annotated.ly")).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.All((string[])["IV⁶", "vii°⁷/V", "sec. vii°", "III⁶"], label => Assert.Contains(label, text, StringComparison.Ordinal));
        Assert.Equal(0, Programs.Run(scratch.Folder, "lilypond", "--png", "-o", "annotated", "annotated.ly").Status);
        Assert.True(File.Exists(scratch.At("annotated.png")));
    }

    private static void CheckExport(MusicXmlDocument source, CueAnalysis analysis)
    {
        using var scratch = new Scratch();
        var annotated = ScoreLabels.Write(source, analysis.Score, AnalysisLabels.Of(analysis, LabelOptions.Default));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), annotated.Source);
        var run = Programs.Run(scratch.Folder, "musescore3", "-o", "exported.musicxml", "annotated.musicxml");
        Assert.True(File.Exists(scratch.At("exported.musicxml")), run.Output);

        // Once through our own reader, once through a script that shares nothing with it.
        var wanted = Labels(MusicXmlReader.Read(annotated, Annotations.WithOwnLabels));
        var exported = Labels(MusicXmlReader.Read(MusicXmlDocument.Load(scratch.At("exported.musicxml")), Annotations.WithOwnLabels)).ToHashSet();
        Assert.DoesNotContain(wanted, w => !exported.Contains(w));
        var script = Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Annotation", "labels.py");
        var (status, output) = Programs.Run(scratch.Folder, "python3", script, "annotated.musicxml", "exported.musicxml");
        Assert.True(status == 0, output);
    }

    private static IEnumerable<string> Labels(Score score) =>
        score.Texts.Where(t => t.LineName == "analysis" || t.LineName.Length == 0 && t.Kind != ScoreTextKind.Rehearsal)
            .Select(t => $"{t.Part} {t.Onset} {t.Kind} {t.Text}")
            .Concat(score.ChordSymbols.Select(s => $"{s.Part} {s.Onset} {s.Root} {s.Kind} {s.Bass}"));

    private sealed class Scratch : IDisposable
    {
        public string Folder { get; } = Directory.CreateTempSubdirectory("scorelens-engraving").FullName;

        public string At(string file) => Path.Combine(Folder, file);

        public void Dispose() => Directory.Delete(Folder, recursive: true);
    }
}
