using ScoreLens.Density;
using ScoreLens.Reading;
using ScoreLens.Tests.Notation.MusicXml;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>
/// Figures over a bass as the handbooks' tables of figures explain them: C. P. E. Bach, Versuch über die wahre Art das Clavier zu spielen II
/// (1762), and Aldwell and Schachter, Harmony and Voice Leading, on figured bass; both from memory.
/// </summary>
public sealed class FiguredBassTests
{
    [Theory]
    // Triads: nothing, 5, 3, 8 and their combinations are the triad on the bass; accidentals alone change its third.
    [InlineData("C", 0, "", "C Major 0")]
    [InlineData("D", 0, "", "D Minor 0")]
    [InlineData("B", 0, "", "B Diminished 0")]
    [InlineData("C", 0, "5", "C Major 0")]
    [InlineData("C", 0, "5 3", "C Major 0")]
    [InlineData("C", 0, "8 5 3", "C Major 0")]
    [InlineData("C", 0, "3", "C Major 0")]
    [InlineData("E", 0, "#", "E Major 0")]
    [InlineData("E", 0, "#3", "E Major 0")]
    [InlineData("C", 0, "b", "C Minor 0")]
    [InlineData("G", -3, "n", "G Major 0")]
    [InlineData("G", -3, "", "G Minor 0")]
    [InlineData("B", 0, "#5", "B Minor 0")]
    [InlineData("C", 0, "#5", "C Augmented 0")]
    // Sixth chords.
    [InlineData("E", 0, "6", "C Major 1")]
    [InlineData("E", 0, "6 3", "C Major 1")]
    [InlineData("D", 0, "6", "B Diminished 1")]
    [InlineData("C#", 0, "6", "A Major 1")]
    [InlineData("F", 0, "6", "D Minor 1")]
    [InlineData("B", 0, "6", "G Major 1")]
    [InlineData("F", 0, "#6", "D# ItalianSixth 0")]
    [InlineData("E", 0, "#6 4", "A Major 2")]
    [InlineData("G", 0, "6 4", "C Major 2")]
    [InlineData("A", 0, "6 4", "D Minor 2")]
    // Sevenths and their inversions, whole and abbreviated.
    [InlineData("G", 0, "7", "G DominantSeventh 0")]
    [InlineData("G", 0, "7 5 3", "G DominantSeventh 0")]
    [InlineData("D", 0, "7", "D MinorSeventh 0")]
    [InlineData("D", 0, "7 #", "D DominantSeventh 0")]
    [InlineData("C", 0, "7", "C MajorSeventh 0")]
    [InlineData("C", 0, "b7", "C DominantSeventh 0")]
    [InlineData("B", 0, "7", "B HalfDiminishedSeventh 0")]
    [InlineData("G#", 0, "7", "G# DiminishedSeventh 0")]
    [InlineData("B", 0, "6 5", "G DominantSeventh 1")]
    [InlineData("F#", 0, "6 5", "D DominantSeventh 1")]
    [InlineData("F", 0, "6 5", "D MinorSeventh 1")]
    [InlineData("D", 0, "4 3", "G DominantSeventh 2")]
    [InlineData("D", 0, "6 4 3", "G DominantSeventh 2")]
    [InlineData("A", 0, "4 3", "D MinorSeventh 2")]
    [InlineData("A", 0, "+6 4 3", "D DominantSeventh 2")]
    [InlineData("F", 0, "4 2", "G DominantSeventh 3")]
    [InlineData("F", 0, "2", "G DominantSeventh 3")]
    [InlineData("F", 0, "6 4 2", "G DominantSeventh 3")]
    [InlineData("C", 0, "+4 2", "D DominantSeventh 3")]
    [InlineData("C", 0, "#4 2", "D DominantSeventh 3")]
    // Augmented sixths over the flat sixth degree.
    [InlineData("F", 0, "#6 5", "D# GermanSixth 0")]
    [InlineData("F", 0, "#6 4 3", "D# FrenchSixth 0")]
    public void Figures_are_the_chord_that_the_books_say(string bass, int signature, string figures, string chord)
    {
        var found = Figures.Parse(figures)!.ChordOver(Tone.Parse(bass), signature);
        Assert.NotNull(found);
        Assert.Equal(chord, $"{found.Value.Root} {found.Value.Quality} {found.Value.Inversion}");
    }

    [Fact]
    public void A_figured_bass_alone_is_read_by_its_figures()
    {
        static string Figure(params string[] numbers) =>
            $"<figured-bass>{string.Concat(numbers.Select(n => $"<figure><figure-number>{n}</figure-number></figure>"))}</figured-bass>";
        const string Start = "<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>";
        var score = Xml.Read(Xml.Partwise(
            Start + Xml.Note("C3 2") + Figure("6") + Xml.Note("E3 2"),
            Figure("6") + Xml.Note("F3 2") + Figure("6", "5") + Xml.Note("B2 2"),
            Figure("4") + Xml.Note("G2 1", "", "<tie type=\"start\"/>") + Figure("7") + Xml.Note("G2 3"),
            Xml.Note("C3 4")));
        var analysis = CueAnalysis.Of(score);
        Assert.Equal(HarmonySource.Symbols, analysis.Source);
        Assert.Equal(["I", "I6", "ii6", "V65", "V", "V7", "I"], ChordRow.Of(analysis).Select(r => r.Numeral));
        Assert.Equal(HarmonySource.Notes, CueAnalysis.Of(score, from: HarmonySource.Notes).Source);
    }
}
