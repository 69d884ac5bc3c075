using ScoreLens.Marking;
using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking.PartWriting;

public sealed class GivenPartsTests
{
    private static readonly string[] Right = ["E5 D5 C5:2", "G4 G4 G4:2", "C4 B3 E4:2", "C3 G3 C3:2"];

    [Theory]
    [InlineData("E5 D5 C5:2", "")]
    [InlineData("E5 F5 C5:2", "given-note-changed")]
    [InlineData("E5 r C5:2", "given-note-missing")]
    [InlineData("E5 D5 C5", "given-note-length")]
    public void A_given_melody_is_kept(string soprano, string kind)
    {
        var given = Score("E5 D5 C5:2");
        var remarks = Run(Score(soprano, Right[1], Right[2], Right[3]), given, ["soprano"], false);
        Assert.Equal(kind.Length == 0 ? [] : [kind], remarks.Select(r => r.Kind.Name()));
        Assert.All(remarks, r => Assert.Equal(["soprano"], r.Voices));
    }

    [Fact]
    public void A_given_bass_is_kept()
    {
        var remark = Assert.Single(Run(Score(Right[0], Right[1], Right[2], "C3 B2 C3:2"), Score("C3 G3 C3:2"), ["bass"], false));
        Assert.Equal(("given-note-changed", "1", new Fraction(2)), (remark.Kind.Name(), remark.Measure, remark.Beat));
        Assert.Contains("G3", remark.Text, StringComparison.Ordinal);
    }

    // The usual table of figures (C. P. E. Bach, Versuch II; any harmony handbook), from memory.
    [Theory]
    [InlineData("", "G", "B D", 0)]
    [InlineData("6", "B", "D G", 0)]
    [InlineData("6", "B", "D F#", 1)]
    [InlineData("6 4", "G", "C E", 0)]
    [InlineData("6 4", "G", "B D", 1)]
    [InlineData("7", "G", "B F", 0)]
    [InlineData("7", "G", "B D", 1)]
    [InlineData("6 5", "B", "D F G", 0)]
    [InlineData("4 3", "D", "F G B", 0)]
    [InlineData("4 2", "F", "G B D", 0)]
    [InlineData("2", "F", "G B D", 0)]
    [InlineData("#", "E", "G# B", 0)]
    [InlineData("#", "E", "G B", 1)]
    [InlineData("#6", "A", "C F#", 0)]
    [InlineData("#6", "A", "C F", 1)]
    [InlineData("6+", "A", "C F#", 0)]
    [InlineData("b7", "C", "E G Bb", 0)]
    [InlineData("4", "G", "C D", 0)]
    [InlineData("9", "C", "E D", 0)]
    public void Figures_are_realised_as_written(string figure, string bass, string upper, int faults)
    {
        var tones = upper.Split(' ');
        string[] voices = [tones[^1] + "5", tones[0] + "4", tones[tones.Length / 2] + "4", bass + "3"];
        var given = Score(bass + "3") with { Texts = [new ScoreText(0, 0, 1, ScoreTextKind.FiguredBass, figure)] };
        var remarks = Run(Score(voices), given, ["bass"], true);
        Assert.Equal(faults, remarks.Count);
        Assert.All(remarks, r => Assert.Equal("figure-not-realised", r.Kind.Name()));
    }

    [Fact]
    public void A_suspension_under_one_bass_note_is_followed_figure_by_figure()
    {
        var given = Score("G3:2") with
        {
            Texts = [new ScoreText(0, 0, 1, ScoreTextKind.FiguredBass, "4"), new ScoreText(1, 0, 1, ScoreTextKind.FiguredBass, "3")],
        };
        Assert.Empty(Run(Score("G4:2", "D4:2", "C4 B3", "G3:2"), given, ["bass"], true));
        Assert.NotEmpty(Run(Score("G4:2", "D4:2", "C4:2", "G3:2"), given, ["bass"], true));
    }

    [Fact]
    public void A_figure_that_is_none_is_told_and_costs_nothing()
    {
        var given = Score("G3") with { Texts = [new ScoreText(0, 0, 1, ScoreTextKind.FiguredBass, "x")] };
        Assert.Equal(Severity.Notice, Assert.Single(Run(Score("G4", "D4", "B3", "G3"), given, ["bass"], true)).Severity);
    }

    [Fact]
    public void Voices_are_found_on_four_staves_on_two_and_in_chords_at_the_keyboard()
    {
        var four = Exercise.Of("C major", "IV V", "C5 D5", "A4 B4", "F4 G4", "F3 B2");
        Score[] layouts =
        [
            four.Score,
            Layout(four.Score, part => (part / 2, (part % 2) == 0 ? "1" : "2")),
            Layout(four.Score, part => (part / 2, "1")),
            Layout(four.Score, part => (part == 3 ? 1 : 0, "1")),
        ];
        foreach (var score in layouts)
        {
            foreach (var style in new[] { PartWritingStyle.Chorale, PartWritingStyle.Keyboard })
            {
                var remarks = PartWritingCheck.Run(score, SonorityFinder.Find(score), four.Reading,
                    PartWritingOptions.Default with { Style = style });
                Assert.Equal(["soprano", "tenor"], Assert.Single(remarks, r => r.Kind.Name() == "parallel-fifths").Voices);
            }
        }
    }

    private static Score Layout(Score score, Func<int, (int Staff, string Voice)> place) => score with
    {
        Parts = [new Part(0, "P1", "", 2)],
        Notes = [.. score.Notes.Select(n => n with { Part = 0, Staff = place(n.Part).Staff + 1, Voice = place(n.Part).Voice })],
    };

    private static Score Score(params string[] voices) => Exercise.Of("C major", "I:4", voices).Score;

    private static IReadOnlyList<Remark> Run(Score score, Score given, string[] voices, bool figures) =>
        GivenPartsCheck.Run(score, given, voices, figures, PartWritingOptions.Default);
}
