using System.IO.Compression;
using System.Text;
using CsCheck;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Sonorities;
using Xunit;
using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Notation.MusicXml;

/// <summary>Files that are broken, hostile or declared wrongly: a score, or an error that says what is wrong; never a crash.</summary>
public sealed class BrokenFileTests
{
    private const string Plain = "<score-partwise version=\"3.1\"><part-list><score-part "
        + "id=\"P1\"><part-name>Flöte</part-name></score-part></part-list>"
        + "<part id=\"P1\"><measure "
        + "number=\"1\"><note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>";

    public static TheoryData<string, string> Encodings => new()
    {
        { "utf-8", "utf-8" }, { "utf-16", "utf-16" }, { "utf-16BE", "utf-16BE" }, { "iso-8859-1", "iso-8859-1" },
            { "windows-1252", "windows-1252" },
        { "UTF-16", "utf-8" }, // declared as two bytes a character, written as one
        { "UTF-8", "iso-8859-1" }, // declared as UTF-8, written as Latin-1
        { "macintosh", "macintosh" },
    };

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Every_encoding_is_read_with_and_without_a_byte_order_mark(string declared, string actual)
    {
        var encoding = Encoding.GetEncodings().Any(e => e.Name == actual) ? Encoding.GetEncoding(actual)
            : CodePagesEncodingProvider.Instance.GetEncoding(actual)!;
        var bytes = encoding.GetBytes($"<?xml version=\"1.0\" encoding=\"{declared}\"?>{Plain}");
        Assert.Equal("Flöte", Score(bytes).Parts[0].Name);
        if (encoding.Preamble.Length > 0) Assert.Equal("Flöte", Score([.. encoding.Preamble, .. bytes]).Parts[0].Name);
    }

    [Theory]
    [InlineData("\n  <?xml version=\"1.0\"?>")]
    [InlineData("<?xml version=\"1.0\"?><!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 1.0 Partwise//EN\" "
        + "\"http://example.invalid/partwise.dtd\">")]
    [InlineData("<!DOCTYPE score-partwise SYSTEM \"file:///does/not/exist.dtd\" [<!ENTITY fl \"Flöte\">]><!-- a comment -->")]
    public void A_prologue_does_not_matter_and_no_document_type_is_fetched(string prologue) =>
        Assert.Single(Read(prologue + Plain).Notes);

    [Fact]
    public void Entities_that_multiply_are_refused()
    {
        var laughs = new StringBuilder("<!DOCTYPE score-partwise [<!ENTITY a0 \"ha\">");
        for (var i = 1; i < 30; i++) laughs.Append(System.Globalization.CultureInfo.InvariantCulture,
            $"<!ENTITY a{i} \"&a{i - 1};&a{i - 1};&a{i - 1};\">");
        var xml = laughs.Append("]>").Append(Plain.Replace("Flöte", "&a29;", StringComparison.Ordinal)).ToString();
        Assert.Contains("entities", Assert.Throws<ScoreFormatException>(() => Read(xml)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_external_entity_is_not_read()
    {
        var xml = "<!DOCTYPE score-partwise [<!ENTITY secret SYSTEM \"file:///etc/hostname\">]>"
            + Plain.Replace("Flöte", "&secret;", StringComparison.Ordinal);
        try
        {
            Assert.Equal("", Read(xml).Parts[0].Name);
        }
        catch (ScoreFormatException e)
        {
            Assert.NotEmpty(e.Message);
        }
    }

    [Fact]
    public void A_package_that_unfolds_to_more_than_a_score_is_refused()
    {
        var package = Package(("score.xml", new byte[64 * 1024 * 1024]));
        Assert.True(package.Length < 100_000);
        Assert.Contains("larger", Assert.Throws<ScoreFormatException>(() => Score(package)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<container><rootfiles><rootfile full-path=\"a/score.xml\"/></rootfiles></container>")]
    [InlineData("<container><rootfiles><rootfile full-path=\"cover.pdf\" media-type=\"application/pdf\"/><rootfile "
        + "full-path=\"a/score.xml\" media-type=\"application/vnd.recordare.musicxml+xml\"/></rootfiles></container>")]
    [InlineData("<container><rootfiles><rootfile full-path=\"/a/score.xml\"/></rootfiles></container>")]
    [InlineData("<container><rootfiles><rootfile full-path=\"a\\score.xml\"/></rootfiles></container>")]
    [InlineData("<container><rootfiles><rootfile full-path='O Sole 'Mio'.xml'/></rootfiles></container>")]
    [InlineData(null)]
    public void A_package_is_read_through_its_container_or_without_a_usable_one(string? container)
    {
        List<(string, byte[])> files = [("mimetype", "application/vnd.recordare.musicxml"u8.ToArray()),
            ("cover.pdf", "%PDF-1.4"u8.ToArray()), ("a/score.xml", Encoding.UTF8.GetBytes(Plain))];
        if (container is not null) files.Add(("META-INF/container.xml", Encoding.UTF8.GetBytes(container)));
        Assert.Single(Score(Package([.. files])).Notes);
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("MThd....", "MIDI")]
    [InlineData("%PDF-1.4", "PDF")]
    [InlineData("hello", "XML")]
    [InlineData("<html/>", "html")]
    [InlineData("<opus/>", "opus")]
    [InlineData("<score-partwise/>", "no part")]
    [InlineData("<score-partwise><part id=\"P1\">", "XML")]
    public void What_is_no_score_is_refused_with_what_it_is(string content, string says) =>
        Assert.Contains(says, Assert.Throws<ScoreFormatException>(() => Read(content)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("<divisions>0</divisions>", "above zero")]
    [InlineData("<divisions>-4</divisions>", "above zero")]
    [InlineData("<divisions>many</divisions>", "not a number")]
    [InlineData("<divisions>1e5</divisions>", "not a number")]
    [InlineData("<divisions>99999999999</divisions>", "too large")]
    [InlineData("<staves>1000000</staves>", "between")]
    public void Divisions_and_staves_that_cannot_be_are_refused_with_their_place(string attribute, string says)
    {
        var error = Assert.Throws<ScoreFormatException>(() => Read(Partwise(Attributes(attribute) + Notes("C4 1"))));
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
        Assert.Contains("part P1, measure 1", error.Place, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-1")]
    [InlineData("x")]
    [InlineData("")]
    [InlineData("1000000000000")]
    [InlineData("9999999999999999999999999999999999999999999999999999")]
    public void Durations_that_cannot_be_are_refused(string duration) =>
        Assert.NotEmpty(Assert.Throws<ScoreFormatException>(() => Read(Partwise(Divisions(1) + Notes($"C4 {duration}")))).Place);

    [Fact]
    public void Times_that_cannot_be_added_exactly_are_refused_and_do_not_overflow()
    {
        // Prime divisions: the common denominator of their sum leaves 64 bits.
        int[] primes = [999983, 999979, 999961, 999959, 999953, 999931];
        var xml = Partwise(string.Concat(primes.Select(p => Divisions(p) + Notes("C4 1"))));
        Assert.Contains("exactly", Assert.Throws<ScoreFormatException>(() => Read(xml)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Thousands_of_parts_are_refused()
    {
        var parts = "<score-partwise>" + string.Concat(Enumerable.Repeat("<part id=\"P\"><measure/></part>", 20_000)) + "</score-partwise>";
        Assert.Contains("more than a score can have", Assert.Throws<ScoreFormatException>(() => Read(parts)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Any_edit_of_a_score_gives_a_score_or_a_format_error()
    {
        var text = Rich();
        string[] values = ["-1", "0", "1", "3", "999999937", "1000000000", "0.333", "1e9", "abc", "", "9999999999999999999", "yes", "stop",
            "start", "G", "perc", "&amp;", "12+7"];
        Gen.Select(Gen.Int[0, 5], Gen.Int[0, text.Length - 1], Gen.Int[1, 80], Gen.Int[0, values.Length - 1]).Array[1, 4].Sample(
            edits =>
            {
                var edited = edits.Aggregate(text, (t, e) => Edit(t, e.Item1, e.Item2 % Math.Max(1, t.Length), e.Item3, values[e.Item4]));
                ReadsOrRefuses(Encoding.UTF8.GetBytes(edited));
            },
            iter: 3000);
    }

    [Fact]
    public void Any_bytes_and_any_truncation_give_a_score_or_a_format_error()
    {
        var xml = Encoding.UTF8.GetBytes(Rich());
        var package = Package(("META-INF/container.xml",
            "<container><rootfiles><rootfile full-path=\"s.xml\"/></rootfiles></container>"u8.ToArray()), ("s.xml", xml));
        Gen.Select(Gen.Bool, Gen.Double[0, 1], Gen.Double[0, 1], Gen.Byte).Sample(
            (isPackage, cut, place, value) =>
            {
                var bytes = (isPackage ? package : xml).ToArray();
                bytes[(int)(place * (bytes.Length - 1))] = value;
                ReadsOrRefuses(bytes[..(cut > 0.5 ? bytes.Length : (int)(cut * 2 * bytes.Length))]);
            },
            iter: 1500);
    }

    private static void ReadsOrRefuses(byte[] bytes)
    {
        try
        {
            SonorityFinder.Find(Score(bytes));
        }
        catch (ScoreFormatException e)
        {
            Assert.NotEmpty(e.Message);
        }
    }

    // Deletes, repeats or replaces a stretch, the text of an element, or an element's name.
    private static string Edit(string text, int kind, int at, int length, string value)
    {
        var end = Math.Min(text.Length, at + length);
        switch (kind)
        {
            case 0: return text[..at] + text[end..];
            case 1: return text[..end] + text[at..];
            case 2: return text[..at] + value + text[end..];
        }

        var open = text.IndexOf('>', at);
        var close = open < 0 ? -1 : text.IndexOf('<', open);
        if (close < 0) return text;
        if (kind < 5) return text[..(open + 1)] + value + text[close..];
        var quote = text.IndexOf('"', at);
        var next = quote < 0 ? -1 : text.IndexOf('"', quote + 1);
        return next < 0 ? text : text[..(quote + 1)] + value.Replace("&amp;", "x", StringComparison.Ordinal) + text[next..];
    }

    // A score that uses most of what the reader knows.
    private static string Rich() => Parts(
        [
            Attributes("<divisions>6</divisions><key><fifths>-3</fifths><mode>minor</mode></key><time><beats>3+2</beats><beat-type>8</beat-type></time><staves>2</staves>"
                + "<clef number=\"1\"><sign>G</sign></clef><transpose "
                + "number=\"2\"><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose>")
                + "<harmony><root><root-step>C</root-step></root><kind>minor</kind><inversion>1</inversion><degree><degree-value>9</degree-value><degree-alter>1</degree-alter><degree-type>add</degree-type></degree><offset>3</offset></harmony>"
                + Note("C4 6", after: "<voice>1</voice><type>quarter</type><staff>1</staff><notations><tied type=\"start\"/><slur "
                + "type=\"start\"/></notations><lyric number=\"1\"><text>la</text></lyric>")
                + Note("Eb4 6", "<chord/>") + Note("C4 9") + Backup("15")
                + "<figured-bass><figure><prefix>sharp</prefix><figure-number>6</figure-number></figure><duration>3</duration></figured-bass>"
                + Note("Ab2 15", after: "<voice>2</voice><staff>2</staff>"),
            "<attributes><measure-style><measure-repeat type=\"start\">1</measure-repeat></measure-style></attributes><note><rest "
                + "measure=\"yes\"/><duration>15</duration></note>",
            "<attributes><measure-style><measure-repeat "
                + "type=\"stop\"/></measure-style><key><key-step>F</key-step><key-alter>1</key-alter></key></attributes>"
                + "<harmony><numeral><numeral-root>5</numeral-root><numeral-alter>0</numeral-alter></numeral><kind>dominant</kind><inversion>2</inversion></harmony>"
                + "<forward><duration>3</duration></forward>" + Note("B4 12",
                    after: "<type>quarter</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"),
        ],
        [
            Attributes("<divisions>4</divisions><clef><sign>percussion</sign></clef>") + Note("E4 10"),
            "<attributes><measure-style><beat-repeat "
                + "type=\"start\"><slash-type>eighth</slash-type></beat-repeat></measure-style></attributes><note><rest "
                + "measure=\"yes\"/><duration>10</duration></note>",
            "<barline location=\"right\"><bar-style>light-heavy</bar-style></barline>",
        ]);

    private static Score Score(byte[] bytes) => MusicXmlReader.Read(MusicXmlDocument.Parse(bytes));

    private static byte[] Package(params (string Name, byte[] Content)[] files)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in files)
            {
                using var entry = zip.CreateEntry(name).Open();
                entry.Write(content);
            }
        }

        return memory.ToArray();
    }
}
