using System.Globalization;
using System.Text;
using System.Text.Json;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Output.Tables;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Output;

public sealed class TableTests
{
    // The columns of docs/tables.md: a contract with whatever reads the tables.
    [Fact]
    public void The_columns_are_those_of_the_manual()
    {
        Assert.Equal(
            "onset,duration,measure,beat,key,numeral,symbol,function,device,also,target,resolution,outside_home,phrase,confidence,runner_up,reason,"
            + "keys,movement,rehearsal,time,colour,disagrees,pedal",
            string.Join(',', ChordTable.Columns));
        Assert.Equal(
            "phrase,start,end,first_measure,last_measure,key,cadence,chords,quarters,outside_time,outside_chords,outside_home_time,"
            + "augmented-sixth,neapolitan,secondary-dominant,secondary-leading-tone,tritone-substitute,modal-mixture,common-tone-diminished,"
            + "chromatic-mediant,double-chromatic-mediant,altered-dominant,other-chromatic,verdict,movement,rehearsal,time",
            string.Join(',', PhraseTable.Columns));
    }

    [Fact]
    public void A_chord_table_is_read_back_as_it_was_written()
    {
        var rows = new[] { Row(), Silence(), Row(measure: "=1+1", reason: "A \"quoted\" reason,\r\nof two lines; é ♭") };
        var text = Write(rows);
        var again = ChordTable.Read(new StringReader(text));
        Assert.Equal(text, Write(again));
        Assert.Equal(rows[0].Chord.Reading.Numeral, again[0].Chord.Reading.Numeral);
        Assert.Equal(rows[0].Chord.Also, again[0].Chord.Also);
        Assert.Null(again[1].Chord.Reading.Numeral);
        Assert.Equal("=1+1", again[2].Measure);
        Assert.Equal(rows[2].Chord.Reason, again[2].Chord.Reason);
    }

    [Fact]
    public void Lines_end_as_RFC_4180_says_and_the_values_have_the_forms_of_the_manual()
    {
        var lines = Write([Row()]).Split("\r\n");
        Assert.Equal(3, lines.Length);
        Assert.Equal("13/3,1.5,12,2.5,A minor,V65/V,B7/D#,predominant,secondary-dominant,modal-mixture "
            + "other-chromatic,V,delayed,1,2,0.625,E major V7,Because.,confirm,1,,,,,", lines[1]);
        Assert.Equal("", lines[2]);
    }

    [Theory]
    [InlineData("=HYPERLINK(1)")]
    [InlineData("+1")]
    [InlineData("-1")]
    [InlineData("@x")]
    public void No_cell_from_a_score_is_a_formula_to_a_spreadsheet(string measure) =>
        Assert.Contains(",'" + measure + ",", Write([Row(measure: measure)]), StringComparison.Ordinal);

    [Fact]
    public void Text_with_half_a_surrogate_pair_is_written_as_valid_UTF_8()
    {
        var row = Row(reason: "broken \ud800 text");
        var bytes = Encoding.UTF8.GetBytes(Write([row]));
        Assert.Contains("broken \ufffd text", new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes),
            StringComparison.Ordinal);
        var analysis = Analysis([row]);
        var json = AnalysisJson.Write(analysis, CueDensity.Of(analysis, Band.Default));
        Assert.Equal("broken \ufffd text", JsonDocument.Parse(json).RootElement.GetProperty("chords")[0].GetProperty("reason").GetString());
    }

    [Theory]
    [InlineData("", "line 1")]
    [InlineData("onset,duration,key\r\n0,1,C major", "line 1")]
    [InlineData("onset,duration,key,numeral\r\n0,1,C major,I\r\n1,x,C major,V", "line 3")]
    [InlineData("onset,duration,key,numeral\r\n0,1,H major,I", "line 2")]
    [InlineData("onset,duration,key,numeral\r\n0,1,C major,X", "line 2")]
    [InlineData("onset,duration,key,numeral,device\r\n0,1,C major,I,nonsense", "line 2")]
    [InlineData("onset,duration,key,numeral,confidence\r\n0,1,C major,I,7", "line 2")]
    [InlineData("onset,duration,key,numeral\r\n0,1,C major,\"I", "line 2")]
    public void A_broken_table_is_refused_with_its_line(string text, string place) =>
        Assert.Equal(place, Assert.Throws<ScoreFormatException>(() => ChordTable.Read(new StringReader(text))).Place);

    [Fact]
    public void A_table_with_few_columns_in_any_order_is_read()
    {
        var row = Assert.Single(ChordTable.Read(new StringReader("\ufeffnumeral,key,remark,duration,onset\nCad64,C minor,mine,2,1/3\n")));
        Assert.Equal(new Fraction(1, 3), row.Chord.Reading.Onset);
        Assert.Equal("C Eb G", string.Join(' ', row.Chord.Reading.Numeral!.Tones(row.Chord.Reading.Key)));
    }

    [Fact]
    public void A_phrase_table_is_read_back_and_its_shares_are_those_of_the_chords()
    {
        var analysis = Analysis([Row()]);
        var rows = PhraseRow.Of(analysis, CueDensity.Of(analysis, Band.Default));
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        PhraseTable.Write(rows, text);
        Assert.Equal(analysis.Phrases, PhraseTable.Read(new StringReader(text.ToString())).Select(p => p.Phrase));
        Assert.Equal(
            "1,0,16,1,4,A minor,HC,1,1.5,1,1,1,0,0,1,0,0,0,0,0,0,0,0,above,1,,",
            text.ToString().Split("\r\n")[1]);
    }

    [Fact]
    public void The_json_document_says_the_same_as_the_tables()
    {
        var analysis = Analysis([Row()]);
        var root = JsonDocument.Parse(AnalysisJson.Write(analysis, CueDensity.Of(analysis, Band.Default))).RootElement;
        var chord = root.GetProperty("chords")[0];
        Assert.Equal("13/3", chord.GetProperty("onset").GetString());
        Assert.Equal(1.5, chord.GetProperty("duration").GetDouble());
        Assert.Equal("V65/V", chord.GetProperty("numeral").GetString());
        Assert.Equal("secondary-dominant", chord.GetProperty("device").GetString());
        Assert.Equal(0.375, chord.GetProperty("runners_up")[0].GetProperty("probability").GetDouble());
        Assert.Equal("above", root.GetProperty("phrases")[0].GetProperty("verdict").GetString());
    }

    private static string Write(IEnumerable<ChordRow> rows)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(rows, text);
        return text.ToString();
    }

    private static ChordRow Row(string measure = "12", string reason = "Because.") => new(
        new TaggedChord(
            new ChordReading(
                new Fraction(13, 3), new Fraction(3, 2), Key.Parse("A minor"), Numeral.Parse("V65/V"), 0.625,
                [new RunnerUp(Key.Parse("E major"), Numeral.Parse("V7"), 0.375)]),
            HarmonicFunction.Predominant, Device.SecondaryDominant, [Device.ModalMixture, Device.OtherChromatic], "V", Resolution.Delayed,
                true, new QuotedReason(reason)),
        measure, new Fraction(5, 2), 2);

    private static ChordRow Silence() => new(
        new TaggedChord(new ChordReading(6, 1, Key.Parse("A minor"), null, 0, []), HarmonicFunction.None, null, [], null, Resolution.None,
            false, null),
        "13", 1, 0);

    private static CueAnalysis Analysis(IReadOnlyList<ChordRow> rows)
    {
        var measures = Enumerable.Range(0, 4).Select(i => new Measure(i, (i + 1).ToString(CultureInfo.InvariantCulture), 4 * i, 4,
            TimeSignature.Common, 0));
        var score = new Score("Invented", [new Part(0, "P1", "", 1)], [.. measures], [], [], [], []);
        var key = Key.Parse("A minor");
        return new CueAnalysis(
            score, [], new HarmonicReading(key, [.. rows.Select(r => r.Chord.Reading)]), [.. rows.Select(r => r.Chord)],
            [new Phrase(1, 0, 16, key, Cadence.Half)]);
    }
}
