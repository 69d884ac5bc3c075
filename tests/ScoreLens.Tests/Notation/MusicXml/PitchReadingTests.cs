using ScoreLens.Notation;
using Xunit;
using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Notation.MusicXml;

public sealed class PitchReadingTests
{
    // Written C5 on common instruments; sounding pitches by their transpositions, as any orchestration book lists them (common practice).
    [Theory]
    [InlineData(-1, -2, 0, "Bb4")] // clarinet in B flat
    [InlineData(-2, -3, 0, "A4")] // clarinet in A
    [InlineData(2, 3, 0, "Eb5")] // clarinet in E flat
    [InlineData(-4, -7, 0, "F4")] // horn in F
    [InlineData(-5, -9, 0, "Eb4")] // alto saxophone
    [InlineData(-1, -2, -1, "Bb3")] // tenor saxophone
    [InlineData(0, 0, -1, "C4")] // double bass
    [InlineData(0, 0, 1, "C6")] // piccolo
    [InlineData(1, 1, 1, "Db6")] // piccolo in D flat
    public void A_written_c_sounds_as_the_instrument_is_named(int diatonic, int chromatic, int octaves, string sounding)
    {
        var transpose = $"<transpose><diatonic>{diatonic}</diatonic><chromatic>{chromatic}</chromatic><octave-change>{octaves}</octave-change></transpose>";
        Assert.Equal(sounding, Assert.Single(Read(Partwise(Attributes("<divisions>1</divisions>" + transpose) + Notes("C5 4"))).Notes)
            .Pitch.ToString());
    }

    [Theory]
    [InlineData(-2, "Bb4")]
    [InlineData(-3, "A4")]
    [InlineData(3, "Eb5")]
    [InlineData(-7, "F4")]
    [InlineData(-9, "Eb4")]
    [InlineData(1, "Db5")]
    public void Without_letters_the_nearest_spelling_of_the_interval_is_meant(int chromatic, string sounding)
    {
        var transpose = $"<transpose><chromatic>{chromatic}</chromatic></transpose>";
        Assert.Equal(sounding, Assert.Single(Read(Partwise(Attributes("<divisions>1</divisions>" + transpose) + Notes("C5 4"))).Notes)
            .Pitch.ToString());
    }

    [Fact]
    public void A_transposition_for_one_staff_leaves_the_other_alone()
    {
        var score = Read(Partwise(
            Attributes("<divisions>1</divisions><staves>2</staves><transpose "
                + "number=\"2\"><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>")
            + Note("C5 4", after: "<staff>1</staff>") + Backup("4") + Note("C5 4", after: "<staff>2</staff>")));
        Assert.Equal(["C5", "Bb4"], score.Notes.Select(n => n.Pitch.ToString()));
    }

    [Fact]
    public void A_transposition_in_the_middle_holds_from_there_for_every_voice()
    {
        var change = Attributes("<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>");
        var score = Read(Partwise(Divisions(1) + Notes("C5 2") + change + Notes("C5 2") + Backup("4")
            + Note("D4 2", after: "<voice>2</voice>") + Note("D4 2", after: "<voice>2</voice>")));
        Assert.Equal(["C5", "D4", "Bb4", "C4"], score.Notes.Select(n => n.Pitch.ToString()));
    }

    [Fact]
    public void A_part_doubled_an_octave_below_sounds_there_too()
    {
        var score = Read(Partwise(Attributes("<divisions>1</divisions><transpose><chromatic>0</chromatic><double/></transpose>")
            + Notes("C3 4")));
        Assert.Equal(["C2", "C3"], score.Notes.Select(n => n.Pitch.ToString()).Order());
    }

    [Fact]
    public void In_a_concert_score_only_octaves_are_transposed_and_for_part_is_for_parts()
    {
        var xml = Partwise(Attributes("<divisions>1</divisions><for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part>"
            + "<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>") + Notes("C5 4"))
            .Replace("<part-list>", "<defaults><concert-score/></defaults><part-list>", StringComparison.Ordinal);
        Assert.Equal("C4", Assert.Single(Read(xml).Notes).Pitch.ToString());
    }

    [Fact]
    public void A_transposed_part_is_spelled_on_the_side_of_the_circle_where_the_score_is()
    {
        // Violin in B major, clarinet in B flat in D flat major: its F is the violin's E flat's enharmonic, D sharp.
        static string Key(int fifths, string transpose = "") =>
            Attributes($"<divisions>1</divisions><key><fifths>{fifths}</fifths></key>{transpose}");
        var clarinet = Key(-5, "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>");
        var score = Read(Parts([Key(5) + Notes("B4 4")], [clarinet + Notes("Db5 2", "F5 2")]));
        Assert.Equal(["B4", "B4", "D#5"], score.Notes.Select(n => n.Pitch.ToString()));
        Assert.Equal(5, score.Measures[0].Signature);
    }

    [Fact]
    public void A_clarinet_alone_never_has_more_than_seven_accidentals_at_concert_pitch()
    {
        var score = Read(Partwise(Attributes("<divisions>1</divisions><key><fifths>-6</fifths></key><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>") + Notes("Gb4 4")));
        Assert.Equal(4, score.Measures[0].Signature);
        Assert.Equal("E4", Assert.Single(score.Notes).Pitch.ToString());
    }

    [Fact]
    public void A_horn_without_a_signature_does_not_decide_the_key_of_the_score()
    {
        static string Key(int fifths, string transpose = "") =>
            Attributes($"<divisions>1</divisions><key><fifths>{fifths}</fifths></key>{transpose}");
        var horn = Key(0, "<transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose>");
        var score = Read(Parts([horn + Notes("B4 4")], [Key(-3) + Notes("Eb5 4")]));
        Assert.Equal(-3, score.Measures[0].Signature);
    }

    [Fact]
    public void Unpitched_notes_drum_sounds_and_places_under_a_percussion_clef_are_no_pitches()
    {
        var clef = Attributes("<divisions>1</divisions><clef><sign>percussion</sign></clef>");
        var unpitched = "<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>4</duration></note>";
        var score = Read(Parts([clef + Notes("E4 4")], [Divisions(1) + unpitched]));
        Assert.Empty(score.Notes);
        Every.Item(score.Parts, p => Assert.True(p.IsPercussion));
    }

    [Fact]
    public void Slash_heads_show_rhythm_and_no_pitch() =>
        Assert.Empty(Read(Partwise(Divisions(1) + Note("B4 4", after: "<notehead>slash</notehead>"))).Notes);

    [Fact]
    public void What_is_not_printed_still_sounds() =>
        Assert.Single(Read(Partwise(Divisions(1) + Notes("C4 4").Replace("<note>", "<note print-object=\"no\">", StringComparison.Ordinal)))
            .Notes);

    [Fact]
    public void Cue_and_grace_notes_are_kept_and_are_no_harmony()
    {
        var score = Read(Partwise(Divisions(1) + Note("C4 4", "<cue/>")
            + "<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>"));
        Assert.Equal([NoteMarks.Cue, NoteMarks.Grace], score.Notes.Select(n => n.Marks));
        Every.Item(score.Notes, n => Assert.False(n.IsHarmonic));
    }

    [Theory]
    [InlineData("<root><root-step>C</root-step></root><kind>dominant</kind><inversion>1</inversion>", "C", "E", "C E G Bb")]
    [InlineData("<root><root-step>F</root-step><root-alter>1</root-alter></root><kind>half-diminished</kind>", "F#", null, "F# A C E")]
    [InlineData("<root><root-step>G</root-step></root><kind>dominant</kind><degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>", "G", null, "G B D F Ab")]
    [InlineData("<root><root-step>D</root-step></root><kind>minor-seventh</kind><degree><degree-value>5</degree-value><degree-alter>-1</degree-alter><degree-type>alter</degree-type></degree>", "D", null, "D F Ab C")]
    [InlineData("<root><root-step>D</root-step></root><kind>diminished</kind><degree><degree-value>5</degree-value><degree-alter>1</degree-alter><degree-type>alter</degree-type></degree>", "D", null, "D F A")]
    [InlineData("<root><root-step>C</root-step></root><kind>major-seventh</kind><degree><degree-value>7</degree-value><degree-alter>0</degree-alter><degree-type>subtract</degree-type></degree>", "C", null, "C E G")]
    [InlineData("<root><root-step>C</root-step></root><kind>major</kind><bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>",
        "C", "Bb", "C E G")]
    [InlineData("<root><root-step>F</root-step></root><kind>Tristan</kind>", "F", null, "F B D# G#")]
    public void A_chord_symbol_has_root_bass_and_tones(string content, string root, string? bass, string tones)
    {
        var symbol = Assert.Single(Read(Partwise(Divisions(1) + $"<harmony>{content}</harmony>" + Notes("C4 4"))).ChordSymbols);
        Assert.Equal(root, symbol.Root.ToString());
        Assert.Equal(bass, symbol.Bass?.ToString());
        Assert.Equal(tones, string.Join(' ', symbol.Tones));
    }

    [Theory]
    [InlineData("<numeral><numeral-root text=\"V\">5</numeral-root></numeral><kind>dominant</kind><inversion>1</inversion>", "V65")]
    [InlineData("<numeral><numeral-root>2</numeral-root></numeral><kind>half-diminished</kind>", "iiø7")]
    [InlineData("<numeral><numeral-root>6</numeral-root><numeral-alter>-1</numeral-alter></numeral><kind>major</kind>", "bVI")]
    [InlineData("<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind><numeral><numeral-root>2</numeral-root></numeral><kind>minor</kind>", "V7/ii")]
    [InlineData("<numeral><numeral-root>7</numeral-root><numeral-key><numeral-fifths>0</numeral-fifths><numeral-mode>harmonic "
        + "minor</numeral-mode></numeral-key></numeral><kind>diminished-seventh</kind>", "viio7")]
    [InlineData("<numeral><numeral-root>2</numeral-root></numeral><kind>Neapolitan</kind>", "N6")]
    [InlineData("<numeral><numeral-root>4</numeral-root></numeral><kind>German</kind>", "Ger65")]
    [InlineData("<function>V</function><kind>dominant</kind><inversion>3</inversion>", "V42")]
    [InlineData("<function>IV6</function><kind>none</kind>", "IV6")]
    public void A_roman_numeral_is_read_in_the_plain_form(string content, string label)
    {
        var text = Assert.Single(Read(Partwise(Divisions(1) + $"<harmony>{content}</harmony>" + Notes("C4 4"))).Texts);
        Assert.Equal((ScoreTextKind.Numeral, label), (text.Kind, text.Text));
    }

    [Fact]
    public void A_chord_symbol_in_a_transposed_part_sounds_where_the_notes_do()
    {
        var transpose = Attributes("<divisions>1</divisions><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>");
        var symbol = Assert.Single(Read(Partwise(transpose + "<harmony><root><root-step>D</root-step></root><kind>minor</kind></harmony>"
            + Notes("D4 4"))).ChordSymbols);
        Assert.Equal("C Eb G", string.Join(' ', symbol.Tones));
    }
}
