using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using ScoreLens.Devices;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output;
using ScoreLens.Output.Annotation;
using Xunit;

namespace ScoreLens.Tests.Annotation;

public sealed class AnnotatedScoreTests
{
    private static readonly string ReedTune = File.ReadAllText(Path.Combine(Places.TestData, "reed-tune.musicxml"));

    [Fact]
    public void Chord_symbols_go_over_the_top_part_that_sounds_as_it_is_written()
    {
        var harmony = Annotate(ReedTune).Xml.Descendants("harmony").First();
        Assert.Equal(("B", "-1", "D"), (harmony.Descendants("root-step").Single().Value, harmony.Descendants("root-alter").Single().Value,
            harmony.Descendants("bass-step").Single().Value));
        Assert.Equal("P2", harmony.Ancestors("part").Single().Attribute("id")!.Value);

        // Where every part transposes they are words, which no program transposes.
        var clarinets = Annotate(ReedTune.Replace(
            "<key><fifths>-1</fifths></key>", "<key><fifths>1</fifths></key>", StringComparison.Ordinal).Replace(
            "<clef><sign>F</sign><line>4</line></clef>",
            "<clef><sign>F</sign><line>4</line></clef><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>",
            StringComparison.Ordinal));
        Assert.Empty(clarinets.Xml.Descendants("harmony"));
        Assert.Equal("B♭/D", clarinets.Xml.Descendants("words").First().Value);
    }

    [Fact]
    public void Every_label_says_its_size_and_font()
    {
        var options = new LabelOptions { As = LabelForms.Lyric | LabelForms.Words | LabelForms.Harmony };
        var labels = Annotate(ReedTune, options).Xml.Descendants().Where(e => e.Name.LocalName is "words" or "harmony"
            || (e.Name.LocalName == "text" && e.Parent!.Name.LocalName == "lyric")).ToArray();
        Assert.Equal(3, labels.Select(l => l.Name.LocalName).Distinct().Count());
        Every.Item(labels, l => Assert.Equal("12", l.Attribute("font-size")?.Value));
        Every.Item(labels, l => Assert.NotNull(l.Attribute("font-family")));
    }

    [Fact]
    public void Chord_symbols_over_a_transposing_part_that_is_chosen_are_in_its_written_pitch()
    {
        // Sounding B flat over D is C over E for a clarinet in B flat, which sounds a major second lower than written.
        var harmony = Annotate(ReedTune, new LabelOptions { Part = "P1" }).Xml.Descendants("harmony").First();
        Assert.Equal(("C", "E"), (harmony.Element("root")!.Value.Trim(), harmony.Element("bass")!.Value.Trim()));
        Assert.Equal("P1", harmony.Ancestors("part").Single().Attribute("id")!.Value);
    }

    [Fact]
    public void What_is_written_for_a_transposing_part_is_read_back_at_concert_pitch()
    {
        var symbols = MusicXmlReader.Read(Annotate(ReedTune), Annotations.WithOwnLabels).ChordSymbols;
        Assert.Equal(["Bb", "F", "C", "B", "F"], symbols.Select(s => s.Root.ToString()));
        Assert.Equal([0, 1, 2, 3, 4], symbols.Select(s => s.Onset));
    }

    [Fact]
    public void A_numeral_stands_under_the_note_that_starts_with_it_and_else_as_words_at_its_time()
    {
        var texts = MusicXmlReader.Read(Annotate(ReedTune), Annotations.WithOwnLabels).Texts;
        Every.Item(texts, t => Assert.Equal(1, t.Part));
        Assert.Equal(
            ["0 Lyric F:\u00A0IV⁶", "1 Lyric I", "2 Lyric V", "3 Words vii°⁷/V", "3 Words sec. vii°", "4 Lyric d:\u00A0III⁶"],
            texts.Select(t => $"{t.Onset} {t.Kind} {t.Text}"));
    }

    [Fact]
    public void A_device_has_its_colour_and_never_the_colour_alone()
    {
        var words = Annotate(ReedTune).Xml.Descendants("words").ToArray();
        Assert.Equal(2, words.Length);
        Every.Item(words, w => Assert.Equal(DevicePalette.Of(Device.SecondaryLeadingTone).Dark, w.Attribute("color")!.Value));
        Assert.Equal("sec. vii°", words[1].Value);
    }

    [Fact]
    public void Our_lyric_lines_come_below_those_of_the_singers()
    {
        var sung = ReedTune.Replace(
            "<duration>1</duration><voice>1</voice><type>quarter</type>",
            "<duration>1</duration><voice>1</voice><type>quarter</type><lyric number=\"1\"><text>la</text></lyric><lyric "
                + "number=\"3\"><text>lo</text></lyric>",
            StringComparison.Ordinal);
        var numbers = Annotate(sung).Xml.Descendants("lyric").Where(l => l.Attribute("name")?.Value == "analysis")
            .Select(l => l.Attribute("number")!.Value);
        Assert.Equal(["4"], numbers.Distinct());
    }

    [Fact]
    public void Before_version_4_a_numeral_as_harmony_is_a_function_and_from_it_on_a_numeral_with_its_key()
    {
        var options = new LabelOptions { Labels = LabelKinds.Numerals, As = LabelForms.Harmony };
        var old = Annotate(ReedTune, options).Xml.Descendants("harmony").ToArray();
        Assert.Equal(["IV⁶", "I", "V", "vii°⁷/V", "III⁶"], old.Select(h => h.Element("function")!.Value));

        var modern = Annotate(ReedTune.Replace("version=\"3.1\"", "version=\"4.0\"", StringComparison.Ordinal), options)
            .Xml.Descendants("harmony").ToArray();
        var applied = modern[3].Elements().Select(e => e.ToString(SaveOptions.DisableFormatting)).ToArray();
        // MusicXML 4.0, harmony-chord: V of II is a 5 numeral followed by a 2 numeral; so vii of V is 7, then 5 in the key.
        Assert.Equal("<numeral><numeral-root text=\"vii\">7</numeral-root></numeral>", Compact(applied[0]));
        Assert.Equal("<kind text=\"°⁷\">diminished-seventh</kind>", applied[1]);
        Assert.Contains("<numeral-root text=\"V\">5</numeral-root>", applied[2], StringComparison.Ordinal);
        Assert.Contains("<numeral-fifths>-1</numeral-fifths>", Compact(applied[2]), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bassoon")]
    [InlineData("P2")]
    [InlineData("2")]
    public void A_part_is_chosen_by_name_identifier_or_number(string part)
    {
        var harmonies = Annotate(ReedTune, new LabelOptions { Part = part }).Xml.Descendants("harmony");
        Every.Item(harmonies, h => Assert.Equal("P2", h.Ancestors("part").Single().Attribute("id")!.Value));
    }

    [Fact]
    public void A_part_that_the_score_has_not_is_an_error_that_names_those_it_has()
    {
        var error = Assert.Throws<ArgumentException>(() => Annotate(ReedTune, new LabelOptions { Part = "harp" }));
        Assert.Contains("1 Clarinet in B flat (P1), 2 Bassoon (P2)", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Options_are_read_as_a_command_line_gives_them()
    {
        var options = LabelOptions.Parse("symbols, keys", "words", " 2 ");
        Assert.Equal((LabelKinds.Symbols | LabelKinds.Keys, LabelForms.Words, "2"), (options.Labels, options.As, options.Part));
        Assert.Equal(LabelOptions.Default, LabelOptions.Parse(null, "", null));
        Assert.Contains("symbols, numerals, devices, keys", Assert.Throws<FormatException>(() => LabelOptions.Parse("chords", null, null))
            .Message, StringComparison.Ordinal);
    }

    public static TheoryData<string> Writings => ["as it is", "CRLF", "one line", "UTF-16", "Latin-1", "byte order mark", "entity",
        "prefix", "odd tags"];

    [Theory]
    [MemberData(nameof(Writings))]
    public void However_a_file_is_written_its_bytes_come_back(string writing)
    {
        var input = Rewritten(writing);
        var source = MusicXmlDocument.Parse(input);
        var analysis = Readings.OfReedTune(source);
        var output = AnnotatedScore.Write(source, analysis, LabelOptions.Default);
        var annotated = MusicXmlDocument.Parse(output);
        Assert.Equal(6, annotated.Xml.Descendants().Count(e => e.Name.LocalName is "lyric" or "direction"));
        Assert.Equal("vii°⁷/V", annotated.Xml.Descendants().First(e => e.Name.LocalName == "words").Value);
        Assert.Equal(output, AnnotatedScore.Write(annotated, analysis, LabelOptions.Default));
        var stripped = AnnotatedScore.Strip(annotated);
        if (writing == "entity") Assert.True(XNode.DeepEquals(MusicXmlDocument.Parse(stripped).Xml, source.Xml));
        else Assert.Equal(input, stripped);
    }

    [Fact]
    public void New_lines_keep_the_documents_own_indentation()
    {
        var text = Encoding.UTF8.GetString(AnnotatedScore.Write(MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(ReedTune)),
            Readings.OfReedTune(MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(ReedTune))), LabelOptions.Default));
        Assert.Contains("\n      <harmony placement=\"above\" font-family=\"FreeSerif, Times New Roman, serif\" font-size=\"12\">\n", text,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Of_a_package_only_the_score_changes()
    {
        var package = Package(("mimetype", "application/vnd.recordare.musicxml"),
            ("META-INF/container.xml", "<container><rootfiles><rootfile full-path=\"scores/tune.musicxml\"/></rootfiles></container>"),
            ("scores/tune.musicxml", ReedTune),
            ("picture.png", "not really a picture"));
        var source = MusicXmlDocument.Parse(package);
        var output = AnnotatedScore.Write(source, Readings.OfReedTune(source), LabelOptions.Default);
        Assert.Equal(["mimetype", "META-INF/container.xml", "scores/tune.musicxml", "picture.png"], Members(output).Select(m => m.Name));
        Every.Item(Members(package).Zip(Members(output)).Where(m => m.First.Name != "scores/tune.musicxml"), m =>
            Assert.Equal(m.First, m.Second));
        Assert.Equal(ReedTune, Members(AnnotatedScore.Strip(MusicXmlDocument.Parse(output)))[2].Content);
    }

    [Fact]
    public void Remarks_and_colours_of_one_layer_stay_when_another_is_written_and_go_with_the_strip()
    {
        var bytes = Encoding.UTF8.GetBytes(ReedTune.Replace("<note><pitch><step>F</step><octave>3</octave></pitch><duration>4",
            "<note color='#00AA00'><pitch><step>F</step><octave>3</octave></pitch><duration>4", StringComparison.Ordinal));
        var source = MusicXmlDocument.Parse(bytes);
        var analysis = Readings.OfReedTune(source);
        var notes = analysis.Sonorities.SelectMany(s => s.Notes).Distinct().ToArray();
        var plan = new LabelPlan(
            "remarks",
            [new WordsLabel(0, 1, 1, "parallel fifths", IsAbove: true)],
            [.. notes.Where(n => n.Part == 1 && n.Onset >= 2).Select(n => NoteColour.Of(n, "#CC0000"))]);
        var marked = ScoreLabels.Write(source, analysis.Score, plan);
        Assert.Equal(["#CC0000", "#CC0000"], marked.Xml.Descendants("note").Attributes("color").Select(a => a.Value));
        var both = ScoreLabels.Write(marked, analysis.Score, AnalysisLabels.Of(analysis, LabelOptions.Default));
        Assert.Contains(MusicXmlReader.Read(both, Annotations.WithOwnLabels).Texts, t => t is { Text: "parallel fifths", Part: 0 }
            && t.Onset == 1);
        Assert.Equal(marked.Source, ScoreLabels.Strip(both, AnnotatedScore.Layer).Source);
        Assert.Equal(bytes, AnnotatedScore.Strip(both));
        Assert.Equal(marked.Source, ScoreLabels.Write(marked, analysis.Score, plan).Source);
    }

    [Fact]
    public void A_score_that_is_not_the_documents_own_is_refused()
    {
        var other = MusicXmlDocument.Parse(File.ReadAllBytes(Path.Combine(Places.TestData, "lamplight.musicxml")));
        var tune = MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(ReedTune));
        Assert.Throws<ArgumentException>(() => AnnotatedScore.Write(other, Readings.OfReedTune(tune), LabelOptions.Default));
    }

    private static MusicXmlDocument Annotate(string xml, LabelOptions? options = null)
    {
        var source = MusicXmlDocument.Parse(Encoding.UTF8.GetBytes(xml));
        return MusicXmlDocument.Parse(AnnotatedScore.Write(source, Readings.OfReedTune(source), options ?? LabelOptions.Default));
    }

    private static byte[] Rewritten(string writing) => writing switch
    {
        "CRLF" => Encoding.UTF8.GetBytes(ReedTune.Replace("\n", "\r\n", StringComparison.Ordinal)),
        "one line" => Encoding.UTF8.GetBytes(string.Concat(ReedTune.Split('\n').Select(l => l.Trim()))),
        "UTF-16" => [.. Encoding.Unicode.GetPreamble(),
            .. Encoding.Unicode.GetBytes(ReedTune.Replace("UTF-8", "UTF-16", StringComparison.Ordinal))],
        "Latin-1" => Encoding.Latin1.GetBytes(ReedTune.Replace("UTF-8", "ISO-8859-1", StringComparison.Ordinal)
            .Replace("Reed Tune", "Ried-Stück", StringComparison.Ordinal)),
        "byte order mark" => [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(ReedTune)],
        "entity" => Encoding.UTF8.GetBytes(ReedTune
            .Replace("partwise.dtd\">", "partwise.dtd\" [<!ENTITY closing \"<barline "
                + "location='right'><bar-style>light-heavy</bar-style></barline>\">]>", StringComparison.Ordinal)
            .Replace("<barline location=\"right\"><bar-style>light-heavy</bar-style></barline>", "&closing;", StringComparison.Ordinal)),
        "prefix" => Encoding.UTF8.GetBytes(ReedTune
            .Replace("</", "</m:", StringComparison.Ordinal).Replace("<", "<m:", StringComparison.Ordinal)
                .Replace("<m:/m:", "</m:", StringComparison.Ordinal)
            .Replace("<m:?", "<?", StringComparison.Ordinal).Replace("<m:!", "<!", StringComparison.Ordinal)
            .Replace("version=\"3.1\">", "version=\"3.1\" xmlns:m=\"urn:invented\">", StringComparison.Ordinal)
            .Replace("DOCTYPE score-partwise", "DOCTYPE m:score-partwise", StringComparison.Ordinal)),
        "odd tags" => Encoding.UTF8.GetBytes(ReedTune
            .Replace("<note>", "<note\n  attack = '1>2'   >", StringComparison.Ordinal)
                .Replace("</note>", "</note\t>", StringComparison.Ordinal)
            .Replace("<measure number=\"2\">", "<measure number=\"2\"><!-- a <note> in a comment --><?pi <note>?>",
                StringComparison.Ordinal)),
        _ => Encoding.UTF8.GetBytes(ReedTune),
    };

    private static string Compact(string xml) => XElement.Parse(xml).ToString(SaveOptions.DisableFormatting)
        .Replace("\n", "", StringComparison.Ordinal).Replace("  ", "", StringComparison.Ordinal);

    private static byte[] Package(params (string Name, string Content)[] members)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in members)
            {
                using var stream = zip.CreateEntry(name).Open();
                stream.Write(Encoding.UTF8.GetBytes(content));
            }
        }

        return memory.ToArray();
    }

    private static (string Name, string Content)[] Members(byte[] package)
    {
        using var zip = new ZipArchive(new MemoryStream(package));
        return [.. zip.Entries.Select(e =>
        {
            using var reader = new StreamReader(e.Open());
            return (e.FullName, reader.ReadToEnd());
        })];
    }
}
