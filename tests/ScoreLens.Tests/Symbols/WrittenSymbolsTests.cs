using System.Globalization;
using System.Text;
using System.Xml.Linq;
using ScoreLens.Density;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Output.Tables;
using ScoreLens.Reading;
using ScoreLens.Tests.Annotation;
using ScoreLens.Tests.Notation.MusicXml;
using ScoreLens.Theory;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>A score's own chord symbols are its harmony.</summary>
public sealed class WrittenSymbolsTests
{
    private const string Key = "<attributes><divisions>1</divisions><key><fifths>-3</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";

    private static readonly string Melody = Xml.Partwise(
        Key + Harmony("E", -1, "major-sixth") + Xml.Notes("Eb4 2", "C5 2"),
        Harmony("C", 0, "dominant", "<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>")
            + Xml.Notes("Bb4 2", "G4 2"),
        Harmony("F", 0, "dominant-ninth") + Xml.Notes("A4 2", "G4 2"),
        Harmony("B", -1, "dominant") + Xml.Notes("F4 4"),
        Harmony("E", -1, "major") + Xml.Notes("Eb4 4"));

    [Fact]
    public void Over_a_melody_the_symbols_are_the_harmony()
    {
        var analysis = CueAnalysis.Of(Xml.Read(Melody));
        Assert.Equal(HarmonySource.Symbols, analysis.Source);
        Assert.Equal("Eb major", analysis.Reading.HomeKey.ToString());
        var rows = ChordRow.Of(analysis);
        Assert.Equal(["I[add6]", "V7/ii[b9]", "V9/V", "V7", "I"], rows.Select(r => r.Numeral));
        Assert.Equal(["Eb6", "C7b9", "F9", "Bb7", "Eb"], rows.Select(r => r.Symbol));
        Assert.Equal(["", "secondary-dominant", "secondary-dominant", "", ""],
            rows.Select(r => r.Chord.Device is { } d ? ScoreLens.Devices.DeviceNames.Name(d) : ""));
    }

    [Fact]
    public void The_numerals_column_is_read_back_without_what_stands_in_brackets()
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        ChordTable.Write(ChordRow.Of(CueAnalysis.Of(Xml.Read(Melody))), text);
        using var reader = new StringReader(text.ToString());
        Assert.Equal(["I", "V7/ii", "V9/V", "V7", "I"], ChordTable.Read(reader).Select(r => r.Chord.Reading.Numeral!.ToString()));
    }

    [Fact]
    public void A_sentence_says_which_tones_stand_in_the_symbol_alone()
    {
        var chords = CueAnalysis.Of(Xml.Read(Melody)).Chords;
        Assert.StartsWith("E in the written symbol is the raised first degree, the leading tone of ii", ReasonText.Of(chords[1].Reason),
            StringComparison.Ordinal);
        Assert.StartsWith("A is the raised fourth degree, the leading tone of V", ReasonText.Of(chords[2].Reason),
            StringComparison.Ordinal);
    }

    [Fact]
    public void From_notes_leaves_the_symbols_out()
    {
        var analysis = CueAnalysis.Of(Xml.Read(Melody), from: HarmonySource.Notes);
        Assert.Equal(HarmonySource.Notes, analysis.Source);
        Assert.All(analysis.Reading.Chords, c => Assert.Null(c.Written));
    }

    [Fact]
    public void No_symbol_of_ours_stands_where_the_composers_hold()
    {
        var source = MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(Melody));
        foreach (var (from, on) in Enum.GetValues<HarmonySource>().SelectMany(f => Enum.GetValues<LabelStaff>().Select(o => (f, o))))
        {
            var analysis = CueAnalysis.Of(MusicXmlReader.Read(source), from: from);
            var annotated = MusicXmlReader.Read(MusicXmlDocument.Parse(AnnotatedScore.Write(source, analysis,
                LabelOptions.Default with { On = on })), Annotations.WithOwnLabels);
            Assert.DoesNotContain(annotated.ChordSymbols, s => s.IsOwn);
            Assert.Equal(5, annotated.ChordSymbols.Count);
        }
    }

    [Fact]
    public void The_reduction_of_a_lead_sheet_has_symbols_of_its_own()
    {
        var reduction = HarmonicReduction.Of(CueAnalysis.Of(Xml.Read(Melody)));
        var score = MusicXmlReader.Read(MusicXmlDocument.Parse(ReductionScore.MusicXml(reduction, LabelOptions.Default)),
            Annotations.WithOwnLabels);
        Assert.Equal(["Eb", "C", "F", "Bb", "Eb"], score.ChordSymbols.Select(s => s.Root.ToString()));
    }

    [Fact]
    public void Symbols_typed_as_words_are_read_like_harmony_elements()
    {
        static string Words(string text) => $"<direction><direction-type><words>{text}</words></direction-type></direction>";
        var typed = Xml.Partwise(
            Key + Words("Slowly") + Words("Eb6") + Xml.Notes("Eb4 2", "C5 2"),
            Words("C7(b9)") + Xml.Notes("Bb4 2", "G4 2"),
            Words("F9") + Xml.Notes("A4 2", "G4 2"),
            Words("B♭7") + Xml.Notes("F4 4"),
            Words("Eb") + Xml.Notes("Eb4 4"));
        Assert.Equal(["I[add6]", "V7/ii[b9]", "V9/V", "V7", "I"], ChordRow.Of(CueAnalysis.Of(Xml.Read(typed))).Select(r => r.Numeral));
    }

    /// <summary>MusicXML 4.0, harmony: numeral with numeral-root, and function before it.</summary>
    [Fact]
    public void Roman_numerals_over_a_melody_alone_are_its_harmony()
    {
        static string Function(string function, string kind) => $"<harmony><function>{function}</function><kind>{kind}</kind></harmony>";
        var score = Xml.Read(Xml.Partwise(
            Key + "<harmony><numeral><numeral-root>1</numeral-root></numeral><kind>major</kind></harmony>" + Xml.Notes("Eb4 4"),
            Function("II", "minor-seventh") + Xml.Notes("F4 4"), Function("V", "dominant") + Xml.Notes("F4 4"), Function("I", "major")
                + Xml.Notes("Eb4 4")));
        var analysis = CueAnalysis.Of(score);
        Assert.Equal(HarmonySource.Symbols, analysis.Source);
        Assert.Equal(["Eb", "Fm7", "Bb7", "Eb"], ChordRow.Of(analysis).Select(r => r.Symbol));
        Assert.Equal(["I", "ii7", "V7", "I"], ChordRow.Of(analysis).Select(r => r.Numeral));
    }

    [Fact]
    public void Letters_of_sections_are_no_chords()
    {
        static string Words(string text) => $"<direction><direction-type><words>{text}</words></direction-type></direction>";
        var lettered = Xml.Partwise(
            Key + Words("A") + Xml.Notes("Eb4 4"), Words("B") + Xml.Notes("G4 4"), Words("C") + Xml.Notes("Bb4 4"), Words("D")
                + Xml.Notes("Eb5 4"));
        Assert.Equal(HarmonySource.Notes, CueAnalysis.Of(Xml.Read(lettered)).Source);
    }

    [Fact]
    public void No_chord_is_no_row_with_a_numeral()
    {
        var score = Charts.Score(0, "C | N.C. | G7 | C");
        Assert.Equal(["I", "", "V7", "I"], ChordRow.Of(CueAnalysis.Of(score)).Select(r => r.Numeral));
    }

    [Fact]
    public void An_accompaniment_that_plays_another_chord_is_listed_against_the_symbol()
    {
        static string Block(params string[] notes) => string.Concat(notes.Select((n, i) => Xml.Note(n, i == 0 ? "" : "<chord/>")));
        var score = Xml.Read(Xml.Parts(
            [Key.Replace("-3", "0", StringComparison.Ordinal) + Harmony("C", 0, "major") + Xml.Notes("E5 4"), Harmony("F", 0, "major")
                + Xml.Notes("F5 4"),
                Harmony("G", 0, "major") + Xml.Notes("D5 4"), Harmony("C", 0, "major") + Xml.Notes("C5 4")],
            [Key.Replace("-3", "0", StringComparison.Ordinal) + Block("C3 4", "G3 4", "E4 4"), Block("D3 4", "F#3 4", "A3 4", "D4 4"),
                Block("G2 4", "B3 4", "D4 4"), Block("C3 4", "E3 4", "G3 4")]));
        var analysis = CueAnalysis.Of(score with { Notes = [.. score.Notes.Where(n => n.Pitch.ToString() != "F5")] });
        Assert.Equal(HarmonySource.Both, analysis.Source);
        Assert.Equal(["", "symbol F", "", ""], ChordRow.Of(analysis).Select(r => r.Disagrees));
        Assert.Equal(["C", "D", "G", "C"], ChordRow.Of(analysis).Select(r => r.Symbol));
        var written = CueAnalysis.Of(analysis.Score, from: HarmonySource.Symbols);
        Assert.Equal(["", "notes D", "", ""], ChordRow.Of(written).Select(r => r.Disagrees));
        Assert.Equal(["C", "F", "G", "C"], ChordRow.Of(written).Select(r => r.Symbol));
    }

    /// <summary>Two roots in one harmony (MusicXML 4.0, harmony: stacked chords). D over C7 sounds as C13(#11): Levine, The Jazz Theory Book,
    /// on upper structures; from memory.</summary>
    [Fact]
    public void A_polychord_has_the_tones_of_both_chords_and_the_numeral_of_the_lower()
    {
        const string Upper = "<root><root-step>D</root-step></root><kind>major</kind>";
        var score = Xml.Read(Xml.Partwise(
            Key.Replace("-3", "-1", StringComparison.Ordinal) + Harmony("F", 0, "major") + Xml.Notes("F4 4"),
            Harmony("C", 0, "dominant").Replace("<harmony>", "<harmony>" + Upper, StringComparison.Ordinal) + Xml.Notes("D5 4"),
            Harmony("F", 0, "major") + Xml.Notes("C5 4")));
        var rows = ChordRow.Of(CueAnalysis.Of(score));
        Assert.Equal(["I", "V13[#11]", "I"], rows.Select(r => r.Numeral));
        Assert.Equal("D|C7", rows[1].Symbol);
        Assert.Equal("C E G Bb D F# A", string.Join(' ', rows[1].Chord.Reading.Written!.Tones));
        var sheet = MusicXmlReader.Read(MusicXmlDocument.Parse(LeadSheet.MusicXml(CueAnalysis.Of(score), SymbolSpelling.Plain)));
        Assert.Equal(["I", "V13[#11]", "I"], ChordRow.Of(CueAnalysis.Of(sheet)).Select(r => r.Numeral));
        Assert.Equal("D", sheet.ChordSymbols[1].Upper!.Root.ToString());
    }

    /// <summary>Every value of the schema's own list, read from the schema itself (MusicXML 4.0, W3C, kind-value).</summary>
    [Fact]
    public void Every_kind_of_the_schema_names_a_chord()
    {
        XNamespace xs = "http://www.w3.org/2001/XMLSchema";
        var kinds = XDocument.Load(Places.External("musicxml-4.0", "musicxml.xsd")).Descendants(xs + "simpleType")
            .Single(t => t.Attribute("name")?.Value == "kind-value").Descendants(xs + "enumeration").Select(e =>
            e.Attribute("value")!.Value).ToArray();
        Assert.Equal(33, kinds.Length);
        foreach (var kind in kinds)
        {
            var score = Xml.Read(Xml.Partwise(Key + Harmony("C", 0, kind) + Xml.Notes("C5 4"), Harmony("F", 0, "major")
                + Xml.Notes("C5 4")));
            var row = ChordRow.Of(CueAnalysis.Of(score, from: HarmonySource.Symbols))[0];
            if (kind == "none")
            {
                Assert.Equal("", row.Numeral);
                continue;
            }

            var written = row.Chord.Reading.Written!;
            Assert.Equal("C", written.Root.ToString());
            Assert.NotEqual("", row.Numeral);
            if (kind is "pedal" or "Tristan" or "Italian" or "French" or "German") continue;
            var again = SymbolText.Read(row.Symbol)!;
            Assert.Equal((written.Quality(), written.Extension), (again.Quality(), again.Extension));
        }
    }

    private static string Harmony(string step, int alter, string kind, string more = "") =>
        $"<harmony><root><root-step>{step}</root-step>{(alter == 0 ? "" : $"<root-alter>{alter}</root-alter>")}</root><kind>{kind}</kind>{more}</harmony>";
}
