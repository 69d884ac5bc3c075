using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Reading.Written;
using ScoreLens.TestKit.PlantedFaults;
using ScoreLens.Tests.Notation.MusicXml;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>
/// Figures that follow each other over one bass note: Aldwell and Schachter, Harmony and Voice Leading (suspensions; 5–6 technique; the
/// cadential six-four), Kostka and Payne, Tonal Harmony (non-chord tones: suspensions), and C. P. E. Bach, Versuch über die wahre Art das
/// Clavier zu spielen II (1762: chapters of the fourth, the seventh, the ninth, the organ point); all from memory.
/// </summary>
public sealed class FiguredSuspensionTests
{
    [Theory]
    // The suspensions of every handbook: the chord is that of the resolution, from where the suspension begins.
    [InlineData(0, "C3:2 G2:4-3:4 C3:2", "0 C Major, 2 G Major, 6 C Major")]
    [InlineData(0, "C3:2 G2:5 4-5 3:4 C3:2", "0 C Major, 2 G Major, 6 C Major")]
    [InlineData(0, "C3:2 G2:7 4-7 3:4 C3:2", "0 C Major, 2 G DominantSeventh, 6 C Major")]
    [InlineData(1, "G3:2 A2:4-#:2 D3:4", "0 G Major, 2 A Major, 4 D Major")]
    [InlineData(0, "C3:2 D3:7-6:2 C3:4", "0 C Major, 2 B Diminished, 4 C Major")]
    [InlineData(0, "A2:2 F3:7-#6:2 E3:#:4", "0 A Minor, 2 D# ItalianSixth, 4 E Major")]
    [InlineData(0, "G3:2 C3:9-8:2 G2:4", "0 G Major, 2 C Major, 4 G Major")]
    [InlineData(0, "C3:2 E3:9 6-8 6:2 F3:4", "0 C Major, 2 C Major, 4 F Major")]
    // Double suspensions, and the whole dominant over the tonic.
    [InlineData(0, "G3:2 C3:9 4-8 3:2 G2:4", "0 G Major, 2 C Major, 4 G Major")]
    [InlineData(0, "G3:2 D3:9 7-8 6:2 C3:4", "0 G Major, 2 B Diminished, 4 C Major")]
    [InlineData(0, "G3:2 C3:7 4 2-8 5 3:2 G2:4", "0 G Major, 2 C Major, 4 G Major")]
    [InlineData(-3, "G3:n:2 C3:n7 6 4 2-8 5 3:2 G2:n:4", "0 G Major, 2 C Minor, 4 G Major")]
    // A chain of sevenths that fall to the sixth; one resolves while the next is prepared.
    [InlineData(0, "F3:7-6:2 E3:7-6:2 D3:7-6:2 C3:2", "0 D Minor, 2 C Major, 4 B Diminished, 6 C Major")]
    // A bass that is suspended itself: 5 2, then 6 a step lower. 4 2 is a chord.
    [InlineData(0, "C3:2 C3:5 2:2 B2:6:2 C3:2", "0 C Major, 2 G Major, 6 C Major")]
    [InlineData(0, "C3:2 C3:4 2:2 B2:6:2 C3:2", "0 C Major, 2 D MinorSeventh, 4 G Major, 6 C Major")]
    // No suspensions: the six-four, a complete seventh chord, 5 6, the passing seventh.
    [InlineData(0, "C3:2 G2:6 4-5 3:4 C3:2", "0 C Major, 2 C Major, 4 G Major, 6 C Major")]
    [InlineData(0, "C3:2 D3:7 5 3-6:2 C3:4", "0 C Major, 2 D MinorSeventh, 3 B Diminished, 4 C Major")]
    [InlineData(0, "F3:5-6:4 G3:4", "0 F Major, 2 D Minor, 4 G Major")]
    [InlineData(0, "C3:2 G2:8-7:2 C3:4", "0 C Major, 2 G Major, 3 G DominantSeventh, 4 C Major")]
    // A prepared sixth that falls to the fifth is a suspension; one that nothing prepares is a chord.
    [InlineData(0, "C3:4 G2:6-5:2 C3:2", "0 C Major, 4 G Major, 6 C Major")]
    [InlineData(0, "F3:4 G2:6-5:2 C3:2", "0 F Major, 4 E Minor, 5 G Major, 6 C Major")]
    // A raised fourth alone is the tritone of 6 4 2.
    [InlineData(0, "C3:+4:4 B2:6:4", "0 D DominantSeventh, 4 G Major")]
    [InlineData(-1, "F3:n4:4 E3:6:4", "0 G DominantSeventh, 4 C Major")]
    // An octave's leap and a note struck again are the same bass.
    [InlineData(0, "C3:2 G3:4:2 G2:3:2 C3:2", "0 C Major, 2 G Major, 6 C Major")]
    [InlineData(0, "C3:2 G3:4:2 G2:2 C3:2", "0 C Major, 2 G Major, 6 C Major")]
    public void Figures_over_one_bass_note_are_the_chords_that_the_books_say(int signature, string bass, string chords) =>
        Assert.Equal(chords, Read(signature, bass));

    /// <summary>Over a dotted note the first of two figures has two thirds (C. P. E. Bach, Versuch II; from memory).</summary>
    [Theory]
    [InlineData("C3:1 F3:5-6:3 G3:4", "0 C Major, 1 F Major, 3 D Minor, 4 G Major")]
    [InlineData("F3:5-6:4 G3:4", "0 F Major, 2 D Minor, 4 G Major")]
    [InlineData("G3:8-7-6:3 C3:1", "0 G Major, 1 G DominantSeventh, 2 E Minor, 3 C Major")]
    public void Figures_share_the_time_of_their_note(string bass, string chords) => Assert.Equal(chords, Read(0, bass));

    [Theory]
    // A line of extension holds the chord over the bass notes under it.
    [InlineData("C3:2 D3:_:1 E3:_:1 F3:4", "0 C Major, 4 F Major")]
    [InlineData("E3:6:2 D3:_:2 C3:4", "0 C Major, 4 C Major")]
    // In a row of figures it holds the figure of that row.
    [InlineData("G2:6 4-_ 3:4 C3:4", "0 C Major, 2 E Minor, 4 C Major")]
    [InlineData("D3:7 4-_ 3:4 G2:4", "0 D MinorSeventh, 4 G Major")]
    [InlineData("G3:4-_-3:3 C3:1", "0 G Major, 3 C Major")]
    public void A_line_of_extension_keeps_what_stood_before(string bass, string chords) => Assert.Equal(chords, Read(0, bass));

    /// <summary>MusicXML 4.0, figured-bass and figure: duration and extend.</summary>
    [Fact]
    public void Figures_of_the_file_hold_for_their_own_duration_and_under_their_line()
    {
        static string Figure(string figure, int duration) => $"<figured-bass>{figure}<duration>{duration}</duration></figured-bass>";
        const string Start = "<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
        const string Line = "<figure><figure-number>6</figure-number><extend type=\"start\"/></figure>";
        const string End = "<figure><extend type=\"stop\"/></figure>";
        var score = Xml.Read(Xml.Partwise(
            Start + Xml.Note("C3 2") + Figure("<figure><figure-number>4</figure-number></figure>", 1)
                + Figure("<figure><figure-number>3</figure-number></figure>", 1) + Xml.Note("G2 2"),
            Figure(Line, 1) + Xml.Note("E3 1") + Figure(End, 1) + Xml.Note("D3 1") + Xml.Note("C3 2"),
            Figure(Line, 3) + Xml.Note("E3 1") + Xml.Note("D3 1") + Xml.Note("E3 1") + Xml.Note("F3 1"),
            Xml.Note("C3 4")));
        Assert.Equal("0 C Major, 2 G Major, 4 C Major, 6 C Major, 8 C Major, 11 F Major, 12 C Major", Spans(score));
        Assert.Equal(["I", "V", "I6", "I", "I6", "IV", "I"], ChordRow.Of(CueAnalysis.Of(score)).Select(r => r.Numeral));
        Assert.Equal("4 – 3", CueAnalysis.Of(score).Chords[1].Reading.Written!.Figures);
    }

    [Theory]
    [InlineData("4-3", "4–3", "7-6")]
    [InlineData("4 - 3", "4—3", "7−6")]
    public void Figures_typed_as_lyrics_or_words_are_read_alike(string first, string second, string third)
    {
        foreach (var kind in new[] { ScoreTextKind.Lyric, ScoreTextKind.Words })
        {
            var score = Score(0, "C3:2 G2:2 C3:2 G2:2 D3:2 C3:1 D3:1 E3:4");
            score = score with
            {
                Texts = [Typed(2, first), Typed(6, second), Typed(8, third), Typed(10, "5"), Typed(11, "_")],
            };
            Assert.Equal("0 C Major, 2 G Major, 4 C Major, 6 G Major, 8 B Diminished, 10 C Major, 12 E Minor", Spans(score));

            ScoreText Typed(int onset, string text) => new(onset, 0, 1, kind, text);
        }
    }

    [Fact]
    public void A_suspension_and_its_resolution_are_one_row()
    {
        var score = Score(0, "C3:2 F3:2 G2:7 4-7 3:4 C3:9 4-8 3:4");
        var rows = ChordRow.Of(CueAnalysis.Of(score));
        Assert.Equal(["I", "IV", "V7", "I"], rows.Select(r => r.Numeral));
        Assert.Equal(["C", "F", "G7", "C"], rows.Select(r => r.Symbol));
    }

    private static string Read(int signature, string bass) => Spans(Score(signature, bass));

    private static string Spans(Score score) =>
        string.Join(", ", FiguredHarmony.Of(score).Select(s => $"{s.Onset} {s.Chord?.Root} {s.Quality}"));

    // Notes of one bass as PITCH:LENGTH or PITCH:FIGURES:LENGTH, measures of four quarter notes; figures of a note stand between hyphens.
    private static Score Score(int signature, string bass)
    {
        var (notes, texts) = (new List<Note>(), new List<ScoreText>());
        Fraction onset = 0;
        foreach (var token in Tokens(bass))
        {
            var parts = token.Split(':');
            var length = new Fraction(int.Parse(parts[^1], System.Globalization.CultureInfo.InvariantCulture));
            notes.Add(new Note(Exercise.ParsePitch(parts[0]), onset, length, 0, 1, "1", NoteMarks.None));
            if (parts.Length == 3) texts.Add(new ScoreText(onset, 0, 1, ScoreTextKind.FiguredBass, parts[1]));
            onset += length;
        }

        var measures = Enumerable.Range(0, (int)((onset.ToDouble() + 3) / 4))
            .Select(m => new Measure(m, $"{m + 1}", 4 * m, 4, TimeSignature.Common, signature));
        return new Score("Bass", [new Part(0, "P1", "", 1)], [.. measures], notes, [], texts, []);
    }

    // Blanks part notes, and the figures of one note.
    private static string[] Tokens(string bass) =>
        System.Text.RegularExpressions.Regex.Split(bass, " (?=[A-G][b#]*[0-9]:)");
}
