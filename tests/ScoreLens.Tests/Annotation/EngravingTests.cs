using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Tests.Cli;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>What other programs make of annotated scores: Debian's musescore3 and lilypond.</summary>
public sealed class EngravingTests
{
    /// <summary>A chorale, two songs with verses of their own and piano, and worked examples of handbooks.</summary>
    public static TheoryData<string> Works =>
    [
        "chorales/Bach-Johann-Sebastian_Chorales_111",
        "songs/Hensel-Fanny-Mendelssohn_3-Lieder_1-Sehnsucht",
        "songs/Reichardt-Louise_Zwlf-Gesnge-Op-3_06-Kriegslied-des-Mays",
        "textbooks/Aldwell-Edward_Harmony-and-Voice-Leading_7",
    ];

    [Theory]
    [MemberData(nameof(Works))]
    public void Musescore_exports_every_label_at_its_note(string work)
    {
        var source = MusicXmlDocument.Load(Places.External(["works", "open", .. work.Split('/'), "score.mxl"]));
        CheckExport(source, CueAnalysis.Of(MusicXmlReader.Read(source)));
    }

    [Fact]
    public void Musescore_exports_every_label_of_an_orchestral_score_at_its_note()
    {
        var source = MusicXmlDocument.Load(Places.Scores(SharedFiles.At("corpus", "open", "orchestral")).First());
        CheckExport(source, CueAnalysis.Of(MusicXmlReader.Read(source)));
    }

    [Theory]
    [MemberData(nameof(Works))]
    public void Lilypond_converts_every_annotated_work(string work)
    {
        using var scratch = new ScratchFolder();
        var source = MusicXmlDocument.Load(Places.External(["works", "open", .. work.Split('/'), "score.mxl"]));
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(source));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), ScoreLabels.Write(source, analysis.Score,
            AnalysisLabels.Of(analysis, LabelOptions.Default)).Source);
        var run = Programs.Run(scratch.Root, "musicxml2ly", "-o", "annotated.ly", "annotated.musicxml");
        Assert.True(run.Status == 0, run.Output);
        // The converter writes a label as a word, in quotes where it has a sign, with skips between.
        var words = File.ReadAllText(scratch.At("annotated.ly")).Replace("\\skip1", " ", StringComparison.Ordinal)
            .Split([' ', '\u00a0', '\n', '"'], StringSplitOptions.RemoveEmptyEntries).ToHashSet(StringComparer.Ordinal);
        var numerals = analysis.Chords.Select(c => c.Reading.Numeral?.ToDisplayString()).OfType<string>().Distinct().ToArray();
        Assert.NotEmpty(numerals);
        Assert.Equal([], numerals.Where(n => !words.Contains(n)));
    }

    [Fact]
    public void A_full_score_that_musescore_wrote_anew_is_the_score_and_its_reduction_is_still_ours()
    {
        using var scratch = new ScratchFolder();
        var source = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(source));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), AnnotatedScore.Write(source, analysis, LabelOptions.Default));
        var run = Programs.Run(scratch.Root, "musescore3", "-o", "exported.musicxml", "annotated.musicxml");
        Assert.True(File.Exists(scratch.At("exported.musicxml")), run.Output);

        var document = MusicXmlDocument.Load(scratch.At("exported.musicxml"));
        var exported = MusicXmlReader.Read(document);
        Assert.Equal(10, exported.Parts.Count);
        Assert.Equal(
            analysis.Score.Notes.Select(n => (n.Part, n.Onset, n.Duration, n.Pitch)),
            exported.Notes.Select(n => (n.Part, n.Onset, n.Duration, n.Pitch)));
        Assert.Equal(11, document.Xml.Descendants("score-part").Count());
        Assert.Equal(10, MusicXmlDocument.Parse(AnnotatedScore.Strip(document)).Xml.Descendants("score-part").Count());
    }

    [Fact]
    public void Lilypond_reads_the_labels_of_a_full_score()
    {
        using var scratch = new ScratchFolder();
        var source = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        File.WriteAllBytes(
            scratch.At("annotated.musicxml"),
            AnnotatedScore.Write(source, CueAnalysis.Of(MusicXmlReader.Read(source)), LabelOptions.Default));
        Assert.Equal(0, Programs.Run(scratch.Root, "musicxml2ly", "-o", "annotated.ly", "annotated.musicxml").Status);
        var text = File.ReadAllText(scratch.At("annotated.ly"));
        Assert.All((string[])["ii⁶", "V⁶₅/V", "sec. dom.", "mixture"], label => Assert.Contains(label, text, StringComparison.Ordinal));
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
        using var scratch = new ScratchFolder();
        var source = MusicXmlDocument.Load(Path.Combine(Places.TestData, "reed-tune.musicxml"));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), AnnotatedScore.Write(source, Readings.OfReedTune(source),
            LabelOptions.Default));
        Assert.Equal(0, Programs.Run(scratch.Root, "musicxml2ly", "-o", "annotated.ly", "annotated.musicxml").Status);
        // The converter wraps its lines.
        var text = string.Join(' ', File.ReadAllText(scratch.At("annotated.ly"))
            .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.All((string[])["IV⁶", "vii°⁷/V", "sec. vii°", "III⁶"], label => Assert.Contains(label, text, StringComparison.Ordinal));
        Assert.Equal(0, Programs.Run(scratch.Root, "lilypond", "--png", "-o", "annotated", "annotated.ly").Status);
        Assert.True(File.Exists(scratch.At("annotated.png")));
    }

    private static void CheckExport(MusicXmlDocument source, CueAnalysis analysis)
    {
        using var scratch = new ScratchFolder();
        var annotated = ScoreLabels.Write(source, analysis.Score, AnalysisLabels.Of(analysis, LabelOptions.Default));
        File.WriteAllBytes(scratch.At("annotated.musicxml"), annotated.Source);
        var run = Programs.Run(scratch.Root, "musescore3", "-o", "exported.musicxml", "annotated.musicxml");
        Assert.True(File.Exists(scratch.At("exported.musicxml")), run.Output);

        // Once through our own reader, once through a script that shares nothing with it.
        var wanted = Labels(MusicXmlReader.Read(annotated, Annotations.WithOwnLabels));
        var exported = Labels(MusicXmlReader.Read(MusicXmlDocument.Load(scratch.At("exported.musicxml")), Annotations.WithOwnLabels))
            .ToHashSet();
        Assert.DoesNotContain(wanted, w => !exported.Contains(w));
        var script = Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Annotation", "labels.py");
        var (status, output) = Programs.Run(scratch.Root, "python3", script, "annotated.musicxml", "exported.musicxml");
        Assert.True(status == 0, output);
    }

    private static IEnumerable<string> Labels(Score score) =>
        score.Texts.Where(t => t.LineName == "analysis" || t.LineName.Length == 0 && t.Kind != ScoreTextKind.Rehearsal)
            .Select(t => $"{t.Part} {t.Onset} {t.Kind} {t.Text}")
            .Concat(score.ChordSymbols.Select(s => $"{s.Part} {s.Onset} {s.Root} {s.Kind} {s.Bass}"));
}
