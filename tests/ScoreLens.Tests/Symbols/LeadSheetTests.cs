using ScoreLens.Notation;
using ScoreLens.Output.Reduction;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>A lead sheet that is written: valid, with the melody as it was, and read again as the harmony that it was written
/// from.</summary>
public sealed class LeadSheetTests
{
    [Theory]
    [InlineData(SymbolSpelling.Plain)]
    [InlineData(SymbolSpelling.Jazz)]
    public void The_lead_sheet_of_a_score_says_its_harmony(SymbolSpelling spelling)
    {
        var analysis = CueAnalysis.Of(ScoreFile.Load(Path.Combine(Places.TestData, "lamplight.musicxml")).Score);
        var written = LeadSheet.MusicXml(analysis, spelling);
        Assert.Empty(MusicXmlSchema.Faults(written));
        var sheet = ScoreFile.Parse(written).Score;
        Assert.Single(sheet.Parts);
        Assert.Equal(1, sheet.Parts[0].Staves);
        var again = CueAnalysis.Of(sheet);
        Assert.Equal(analysis.Reading.HomeKey, again.Reading.HomeKey);
        Assert.Equal(Roots(analysis), Roots(again));
    }

    [Theory]
    [InlineData("C6 | Dm7b5 G7b9 | CmMaj7 | Bb13 | Eb69 | G9sus4 | C/E | Fadd9 | Bdim7 | E7#9 | Am | D7b5 | Gaug | C")]
    [InlineData("Csus2 | C5 | F#m7b5 | B7#5 | Em9 | A9#11 | Dmaj7#5 | D")]
    public void A_chart_that_is_written_again_has_the_same_chords(string chart)
    {
        var analysis = CueAnalysis.Of(Charts.Score(0, chart));
        var again = CueAnalysis.Of(ScoreFile.Parse(LeadSheet.MusicXml(analysis, SymbolSpelling.Plain)).Score);
        Assert.Equal(analysis.Reading.Chords.Select(c => c.Written?.ToString()), again.Reading.Chords.Select(c => c.Written?.ToString()));
    }

    /// <summary>MusicXML 4.0, kind and degree: the text of a kind is printed, and its degrees after it unless they are not to be.</summary>
    [Theory]
    [InlineData("A7b9", "7 -1:add")]
    [InlineData("E7#5b9", "7♯5 -1:add")]
    [InlineData("C69", "6 0:add")]
    [InlineData("G7sus4", "7sus4")]
    [InlineData("Dm7", "m7")]
    public void What_degrees_print_stands_not_in_the_text_of_the_kind(string symbol, string printed)
    {
        var xml = System.Xml.Linq.XDocument.Parse(System.Text.Encoding.UTF8.GetString(
            LeadSheet.MusicXml(CueAnalysis.Of(Charts.Score(0, $"{symbol} | C | G7 | C")), SymbolSpelling.Plain)).TrimStart('\uFEFF'));
        var harmony = xml.Descendants("harmony").First();
        var degrees = harmony.Elements("degree").Where(d => d.Attribute("print-object")?.Value != "no")
            .Select(d => $"{d.Element("degree-alter")!.Value}:{d.Element("degree-type")!.Value}");
        Assert.Equal(printed, string.Join(' ', degrees.Prepend(harmony.Element("kind")!.Attribute("text")!.Value)));
    }

    private static string[] Roots(CueAnalysis analysis)
    {
        var roots = analysis.Reading.Chords.Where(c => c.Numeral is not null)
            .Select(c => $"{c.Onset} {ChordName.Of(c.Key, c.Numeral!)}").ToArray();
        return [.. roots.Where((r, i) => i == 0 || roots[i - 1].Split(' ')[1] != r.Split(' ')[1])];
    }
}
