using System.Xml.Linq;
using ScoreLens.Notation;
using ScoreLens.Pages;
using Xunit;

namespace ScoreLens.Tests.Output;

/// <summary>What a page carries of a score, and what it shows first.</summary>
public sealed class PageScoreTests
{
    private const char Group = '\u001d', Record = '\u001e';

    [Fact]
    public void A_score_is_cut_into_the_measures_of_its_parts()
    {
        var source = XDocument.Load(Path.Combine(Places.TestData, "production", "3m2-harbour-lights.musicxml"));
        var groups = PageScore.Of(source.ToString()).Split(Group);
        Assert.Equal(10, XDocument.Parse(groups[0]).Descendants("score-part").Count());
        var parts = source.Root!.Elements("part").ToList();
        Assert.Equal(parts.Count, groups.Length - 1);
        foreach (var (part, cut) in parts.Zip(groups.Skip(1)))
        {
            var fields = cut.Split(Record);
            Assert.Equal((string?)part.Attribute("id"), fields[0]);
            Assert.All(part.Elements("measure").Zip(fields.Skip(1), (m, f) => (Measure: m, Cut: f)),
                m => Assert.True(XNode.DeepEquals(m.Measure, XElement.Parse(m.Cut)), m.Cut));
            Assert.Equal(24, fields.Length - 1);
        }
    }

    [Fact]
    public void A_timewise_score_is_cut_as_a_partwise_one_and_comments_are_left_out()
    {
        const string Note = "<note><rest/><duration>4</duration></note>";
        var cut = PageScore.Of($"""
            <score-timewise version="3.1"><!-- a comment --><part-list><score-part id="A"/><score-part id="B"/></part-list>
            <measure number="1 &amp; 2"><part id="A">{Note}</part><part id="B"/></measure>
            <measure number="3" implicit="yes"><part id="A"><!-- another -->{Note}</part><part id="B">{Note}</part></measure>
            </score-timewise>
            """);
        Assert.Equal(
            "<score-partwise version=\"3.1\"><part-list><score-part id=\"A\" /><score-part id=\"B\" /></part-list></score-partwise>"
            + $"{Group}A{Record}<measure number=\"1 &amp; 2\">{Written(Note)}</measure>{Record}<measure number=\"3\" "
            + $"implicit=\"yes\">{Written(Note)}</measure>"
            + $"{Group}B{Record}<measure number=\"1 &amp; 2\"></measure>{Record}<measure number=\"3\" "
            + $"implicit=\"yes\">{Written(Note)}</measure>", cut);
    }

    [Theory]
    [InlineData("7", 0.5, "fit on-wide on-middle on-narrow")]
    [InlineData("7", 0.03, "fit on-wide on-middle")]
    [InlineData("F# minor", 0.1, "fit on-wide")]
    [InlineData("F# minor", 0.01, "")]
    public void A_word_of_the_timeline_stands_where_the_window_has_room(string text, double share, string classes) =>
        Assert.Equal(classes, TimelineText.Fitting(text, share));

    [Fact]
    public void Of_a_long_and_a_short_word_each_window_shows_one() => Assert.Equal(
        [("F# minor", "fit on-wide"), ("f#", "fit on-middle on-narrow")], TimelineText.FirstFitting(0.1, "F# minor", "f#"));

    [Fact]
    public void Numbers_along_the_timeline_do_not_overprint()
    {
        var ruler = new TimelineText();
        Assert.Equal("fit on-wide on-middle on-narrow", ruler.After("100", 0));
        Assert.Equal("fit on-wide", ruler.After("101", 0.03));
        Assert.Equal("fit on-wide on-middle on-narrow", ruler.After("102", 0.2));
        Assert.Equal("", ruler.After("103", 0.999));
    }

    [Fact]
    public void The_highest_part_is_the_one_that_sounds_on_top_for_most_of_a_measure()
    {
        // Alto over bass, then the flute for three of four quarters, then silence.
        string Part(string id, string first, string second) => $"""
            <part id="{id}"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>{first}</measure>
            <measure number="2">{second}</measure><measure number="3"><note><rest/><duration>4</duration></note></measure></part>
            """;
        string Note(string step, int octave, int duration) =>
            $"<note><pitch><step>{step}</step><octave>{octave}</octave></pitch><duration>{duration}</duration></note>";
        var score = ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes($"""
            <score-partwise version="4.0"><part-list><score-part id="F"><part-name>Flute</part-name></score-part>
            <score-part id="A"><part-name>Alto</part-name></score-part><score-part id="B"><part-name>Bass</part-name></score-part></part-list>
            {Part("F", "<note><rest/><duration>4</duration></note>", Note("C", 6, 3) + Note("C", 4, 1))}
            {Part("A", Note("E", 5, 4), Note("E", 5, 4))}{Part("B", Note("C", 3, 4), Note("C", 3, 4))}
            </score-partwise>
            """)).Score;
        Assert.Equal(["A", "F", null], HighestLine.Of(CueAnalysis.Of(score)));
    }

    private static string Written(string xml) => xml.Replace("/>", " />", StringComparison.Ordinal);
}
