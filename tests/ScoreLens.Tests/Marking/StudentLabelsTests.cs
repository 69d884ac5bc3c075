using ScoreLens.Marking;
using ScoreLens.Marking.Labels;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

public sealed class StudentLabelsTests
{
    private static readonly Key CMajor = Key.Parse("C major");

    // These labels stand without a key.
    private static readonly LabelMarking Lenient = LabelMarking.Default with { KeyMayBeMissing = true, CapitalsByScale = true };

    private static Score ScoreOf(params ScoreText[] texts) => new(
        "", [new Part(0, "P1", "", 1)],
        [.. Enumerable.Range(0, 8).Select(i => new Measure(i, $"{i + 1}", 4 * i, 4, TimeSignature.Common, 0))],
        [], [], texts, []);

    private static IEnumerable<ScoreText> Line(string line, params string[] texts) =>
        texts.Select((t, i) => new ScoreText(i, 0, 1, ScoreTextKind.Lyric, t, line));

    private static StudentLabels Read(params IEnumerable<ScoreText>[] lines) =>
        StudentLabels.Read(ScoreOf([.. lines.SelectMany(l => l)]), CMajor);

    private static HarmonicReading Reading(params string[] chords) => new(
        CMajor, [.. chords.Select((c, i) => new ChordReading(i, 1, c.Contains(':', StringComparison.Ordinal) ? Key.Parse(c.Split(':')[0])
            : CMajor, Numeral.Parse(c.Split(':')[^1]), 1, []))]);

    private static LabelMarks Mark(HarmonicReading expected, params string[] written)
    {
        var score = ScoreOf([.. Line("1", written).Where(t => t.Text.Length > 0)]);
        return LabelCheck.Run(score, [], StudentLabels.Read(score, CMajor, Lenient), expected, true, Lenient);
    }

    [Fact]
    public void A_verse_is_not_taken_for_numerals_even_where_it_sings_of_I_and_vi()
    {
        var labels = Read(Line("1", "I", "saw", "the", "sea", "and", "I", "was", "glad"),
            Line("2", "I", "V6", "I", "vi", "ii6", "V", "V7", "I"));

        Assert.Equal(8, labels.Labels.Count);
        Assert.All(labels.Labels, l => Assert.Equal("2", l.Source.Line));
    }

    [Fact]
    public void A_verse_alone_holds_no_labels() => Assert.Empty(Read(Line("1", "I", "saw", "vi", "-", "sions", "and", "I", "ran")).Labels);

    [Fact]
    public void A_key_holds_until_the_next_one()
    {
        var labels = Read(Line("1", "C: I", "V", "vi = G: ii", "V7", "I"));

        Assert.Equal("G major", labels.Labels[4].Meanings[0].Key.ToString());
        Assert.Equal(["C major", "G major"], labels.Labels[2].Meanings.Select(m => m.Key.ToString()));
    }

    [Fact]
    public void What_cannot_be_read_is_said_and_not_guessed()
    {
        var marks = Mark(Reading("I6", "V", "I"), "I6", "V9x", "I");

        var fault = Assert.Single(marks.Marks, m => m.Remark is not null);
        Assert.Equal("label-unreadable", fault.Remark!.Kind.Name());
        Assert.Contains("V9x", fault.Remark.Text, StringComparison.Ordinal);
    }

    // Equivalents by common practice (docs/labels.md).
    [Theory]
    [InlineData("Cad64", "I64")]
    [InlineData("Cad64", "Ic")]
    [InlineData("N6", "bII6")]
    [InlineData("viio7/V", "#ivo7")]
    [InlineData("IVmaj7", "IV7")]
    [InlineData("Ger65", "Ger+6")]
    [InlineData("V7/V", "II7")]
    public void An_equivalent_answer_earns_full_marks(string expected, string written)
    {
        var marks = Mark(Reading("I", expected, "V"), "I", written, "V");

        Assert.All(marks.Marks, m => Assert.Equal(0, m.Lost));
    }

    [Fact]
    public void A_six_four_over_the_dominant_may_be_written_in_figures_of_its_bass()
    {
        Assert.All(Mark(Reading("ii6", "Cad64", "V", "I"), "ii6", "V6-5/4-3", "", "I").Marks, m => Assert.Equal(0, m.Lost));
        Assert.All(Mark(Reading("ii6", "Cad64", "V", "I"), "ii6", "V64", "5/3", "I").Marks, m => Assert.Equal(0, m.Lost));
    }

    [Theory]
    [InlineData("V6", "V", "wrong-inversion", 0.2)]
    [InlineData("V7", "V", "wrong-quality", 0.2)]
    [InlineData("iv", "IV", "wrong-quality", 0.2)]
    [InlineData("ii6", "vi6", "wrong-degree", 0.4)]
    [InlineData("ii6", "V", "wrong-degree", 0.8)]
    public void Each_part_is_worth_its_share(string expected, string written, string kind, double lost)
    {
        var mark = Mark(Reading("I", expected, "I"), "I", written, "I").Marks[1];

        Assert.Equal(kind, mark.Remark!.Kind.Name());
        Assert.Equal(lost, mark.Lost, 6);
    }

    [Fact]
    public void A_missed_change_of_key_costs_the_key_and_not_the_degrees()
    {
        var marks = Mark(Reading("I", "V", "G major:V7", "G major:I", "G major:IV", "G major:V"), "I", "V", "V7", "I", "IV", "V");

        Assert.All(marks.Marks.Skip(2), m => Assert.Equal("wrong-key", m.Remark!.Kind.Name()));
        Assert.Equal(0.2, marks.Marks.Sum(m => m.Lost), 6);
    }

    [Fact]
    public void A_pivot_may_be_read_in_the_key_before()
    {
        var marks = Mark(Reading("I", "V", "G major:ii", "G major:V7", "G major:I"), "I", "V", "vi", "G: V7", "I");

        Assert.Equal(0, marks.Marks[2].Lost);
        Assert.Equal("accepted-pivot", marks.Marks[2].Remark!.Kind.Name());
    }

    [Fact]
    public void A_runner_up_that_is_nearly_as_probable_is_accepted_and_one_that_is_not_is_not()
    {
        ChordReading Chord(double other) => new(0, 4, CMajor, Numeral.Parse("ii65"), 0.5,
            [new RunnerUp(CMajor, Numeral.Parse("IV"), other)]);
        var score = ScoreOf(new ScoreText(0, 0, 1, ScoreTextKind.Words, "IV", ""), new ScoreText(4, 0, 1, ScoreTextKind.Words, "V7", ""));
        LabelMark First(double other) => LabelCheck.Run(
            score, [], StudentLabels.Read(score, CMajor),
            new HarmonicReading(CMajor, [Chord(other), new ChordReading(4, 4, CMajor, Numeral.Parse("V7"), 1, [])]), true, Lenient)
                .Marks[0];

        Assert.Equal(0, First(0.4).Lost);
        Assert.Equal("accepted-runner-up", First(0.4).Remark!.Kind.Name());
        Assert.True(First(0.1).Lost > 0);
    }

    [Fact]
    public void A_label_where_none_belongs_costs_a_label_and_a_missing_one_too()
    {
        var extra = Mark(new HarmonicReading(CMajor, [new ChordReading(0, 2, CMajor, Numeral.Parse("I"), 1, []),
            new ChordReading(2, 2, CMajor, Numeral.Parse("V"), 1, [])]), "I", "vi", "V");
        var missing = Mark(Reading("I", "IV", "V"), "I", "", "V");

        Assert.Equal(("label-extra", 1.0), (extra.Marks[1].Remark!.Kind.Name(), extra.Marks[1].Lost));
        Assert.Equal(("label-missing", 1.0), (missing.Marks[1].Remark!.Kind.Name(), missing.Marks[1].Lost));
    }

    [Fact]
    public void Capitals_for_every_degree_take_their_quality_from_the_scale() =>
        Assert.All(Mark(Reading("I", "ii6", "V", "vi", "IV", "viio6", "I"), "I", "II6", "V", "VI", "IV", "VII6", "I").Marks, m =>
            Assert.Equal(0, m.Lost));
}
