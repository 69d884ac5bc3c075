using System.Text;
using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Annotation;

/// <summary>The harmonic reduction with all labels as two staves of our own under a full score.</summary>
public sealed class ReductionPartTests
{
    public static TheoryData<int> Sizes => [10, 25, 40];

    [Theory]
    [MemberData(nameof(Sizes))]
    public void A_full_score_takes_its_labels_on_the_reduction_is_valid_and_comes_back(int parts)
    {
        var source = InventedOrchestra.MusicXml(parts, measures: 16);
        var document = MusicXmlDocument.Parse(source);
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(document));

        var output = AnnotatedScore.Write(document, analysis, LabelOptions.Default);
        var annotated = MusicXmlDocument.Parse(output);

        Assert.Empty(MusicXmlSchema.Faults(annotated.Source));
        Assert.Equal(source, AnnotatedScore.Strip(annotated));
        Assert.Equal(output, AnnotatedScore.Write(annotated, analysis, LabelOptions.Default));
        var own = annotated.Xml.Root!.Elements("part").Last();
        Assert.Equal("ScoreLens-reduction", own.Attribute("id")!.Value);
        Assert.Equal(parts, annotated.Xml.Root.Elements("part").Count() - 1);
        // Every label stands there, and every numeral under a note of its own: so they are on one line.
        Assert.All(Ours(annotated.Xml), e => Assert.Contains(own, e.Ancestors()));
        Assert.DoesNotContain(Ours(annotated.Xml), e => e.Name.LocalName == "direction");
        var numerals = analysis.Chords.Count(c => c.Reading.Numeral is not null);
        Assert.Equal(numerals, own.Descendants("lyric").Count(l => l.Attribute("number")!.Value == "1"));
        Assert.Equal(numerals, own.Descendants("harmony").Count());
    }

    [Fact]
    public void Its_symbols_sound_whatever_the_instruments_above_transpose()
    {
        var document = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(document));
        Assert.Contains(analysis.Score.Parts, p => p.IsTransposing);
        var annotated = MusicXmlDocument.Parse(AnnotatedScore.Write(document, analysis, LabelOptions.Default));
        var own = annotated.Xml.Root!.Elements("part").Last();

        var written = own.Descendants("harmony").Select(h => h.Element("root")!.Element("root-step")!.Value);
        Assert.Equal(
            analysis.Chords.Where(c => c.Reading.Numeral is not null)
                .Select(c => ChordName.Of(c.Reading.Key, c.Reading.Numeral!).Root.Letter.ToString()),
            written);
        Assert.Empty(own.Descendants("transpose"));
    }

    [Theory]
    [InlineData(LabelStaff.Top, "P1")]
    [InlineData(LabelStaff.Bottom, "P10")]
    public void Another_place_can_be_chosen(LabelStaff on, string part)
    {
        var document = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        var annotated = MusicXmlDocument.Parse(AnnotatedScore.Write(
            document, CueAnalysis.Of(MusicXmlReader.Read(document)), new LabelOptions { On = on }));
        Assert.All(Ours(annotated.Xml), e => Assert.Equal(part, e.Ancestors("part").Single().Attribute("id")!.Value));
        Assert.Equal(on, LabelOptions.Default.At(on.ToString()).On);
        Assert.Equal("Horns", LabelOptions.Default.At(" Horns ").Part);
    }

    [Fact]
    public void A_reduction_that_another_program_wrote_anew_is_still_ours()
    {
        var document = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(document));
        var annotated = Encoding.UTF8.GetString(AnnotatedScore.Write(document, analysis, LabelOptions.Default));
        var renamed = annotated.Replace("ScoreLens-reduction", "P11", StringComparison.Ordinal);
        Assert.Equal(10, ScoreFile.Parse(Encoding.UTF8.GetBytes(renamed)).Score.Parts.Count);
        Assert.Equal(analysis.Score.Notes, ScoreFile.Parse(Encoding.UTF8.GetBytes(renamed)).Score.Notes);
    }

    [Fact]
    public void Its_bar_lines_are_those_of_the_score()
    {
        var document = MusicXmlDocument.Parse(InventedOrchestra.MusicXml(10, measures: 16));
        var analysis = CueAnalysis.Of(MusicXmlReader.Read(document));
        var annotated = MusicXmlDocument.Parse(AnnotatedScore.Write(document, analysis, LabelOptions.Default));
        var parts = annotated.Xml.Root!.Elements("part").ToArray();
        Assert.NotEmpty(Repeats(parts[0]));
        Assert.Equal(Repeats(parts[0]), Repeats(parts[^1]));

        static IEnumerable<string> Repeats(XElement part) => part.Descendants("repeat")
            .Select(r => $"{r.Ancestors("measure").Single().Attribute("number")!.Value} {r.Attribute("direction")!.Value}");
    }

    private static IEnumerable<XElement> Ours(XDocument xml) => xml.Descendants().Where(OwnLabels.Has);
}
