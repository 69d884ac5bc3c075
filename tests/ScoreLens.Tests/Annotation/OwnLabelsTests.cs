using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Tables;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>A score that carries labels of ours reads as it does without them.</summary>
public sealed class OwnLabelsTests
{
    private const int SampledCorpusScores = 6;

    private static readonly LabelOptions Everything = new() { As = LabelForms.Lyric | LabelForms.Words | LabelForms.Harmony };

    public static TheoryData<string> OwnScores => [.. Directory.EnumerateFiles(Places.TestData, "*.musicxml", SearchOption.AllDirectories)
        .Where(f => !f.EndsWith("rosa.musicxml", StringComparison.Ordinal)).Select(f => Path.GetRelativePath(Places.TestData, f))
            .Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(OwnScores))]
    public void An_annotated_score_gives_the_tables_of_the_plain_one(string name) => Check(Path.Combine(Places.TestData, name));

    [Fact]
    public void An_annotated_score_of_the_corpus_gives_the_tables_of_the_plain_one()
    {
        var scores = Directory.EnumerateFiles(SharedFiles.At("corpus"), "score.mxl", SearchOption.AllDirectories)
            .Order(StringComparer.Ordinal).ToArray();
        var step = scores.Length / SampledCorpusScores;
        foreach (var score in scores.Where((_, i) => i % step == 1)) Check(score);
    }

    [Fact]
    public void Labels_of_ours_are_read_and_marked_as_such_where_that_is_asked_for()
    {
        var document = MusicXmlDocument.Load(Path.Combine(Places.TestData, "lamplight.musicxml"));
        var plain = MusicXmlReader.Read(document);
        var annotated = MusicXmlDocument.Parse(AnnotatedScore.Write(document, CueAnalysis.Of(plain), Everything));

        var read = MusicXmlReader.Read(annotated, new ScoreReadOptions { KeepsOwnLabels = true });

        Assert.Contains(read.Texts, t => t is { IsOwn: true, Kind: ScoreTextKind.Lyric });
        Assert.Contains(read.Texts, t => t is { IsOwn: true, Kind: ScoreTextKind.Words });
        Assert.Contains(read.ChordSymbols, s => s.IsOwn);
        Assert.Equal(plain.Texts, read.Texts.Where(t => !t.IsOwn));
        Assert.Equal(plain.ChordSymbols.Count, read.ChordSymbols.Count(s => !s.IsOwn));
    }

    private static void Check(string path)
    {
        var document = MusicXmlDocument.Load(path);
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(document));
        var tables = Tables(analysis);
        foreach (var options in (LabelOptions[])[LabelOptions.Default, Everything, new() { On = LabelStaff.Reduction }])
        {
            var annotated = MusicXmlReader.Read(MusicXmlDocument.Parse(AnnotatedScore.Write(document, analysis, options)));
            Assert.Equal(tables, Tables(CueAnalysis.Of(annotated)));
        }
    }

    private static string Tables(CueAnalysis analysis)
    {
        using var writer = new StringWriter();
        ChordTable.Write(ChordRow.Of(analysis), writer);
        PhraseTable.Write(PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default)), writer);
        return writer.ToString();
    }
}
