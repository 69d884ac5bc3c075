using ScoreLens.Marking;
using ScoreLens.Marking.Labels;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>What students write beside Roman numerals: nothing that they know, chord symbols, function letters.</summary>
public sealed class OtherNotationTests
{
    private static readonly Key CMajor = Key.Parse("C major");

    [Fact]
    public void Placeholders_between_numerals_are_unreadable_labels_and_the_others_count()
    {
        var marks = Mark(LabelMarking.Default, ["I", "ii6", "V", "vi", "IV", "V7", "I"], "C: I", "?", "V", "??", "IV", "?", "I");

        Assert.Equal(7, marks.Written);
        Assert.Equal(3, marks.Marks.Count(m => m.Remark?.Kind == RemarkKind.LabelUnreadable));
        Assert.DoesNotContain(marks.Marks, m => m.Remark?.Kind == RemarkKind.LabelMissing);
        Assert.Equal(3, marks.Marks.Sum(m => m.Lost));
    }

    [Theory]
    [InlineData("V.", "V")]
    [InlineData("V!", "V")]
    [InlineData("V7?", "V7")]
    [InlineData("“ii6”", "ii6")]
    [InlineData("[G] I", "I")]
    [InlineData("(e) iv6", "iv6")]
    public void What_stands_around_a_label_is_left_out(string written, string numeral) =>
        Assert.Equal(numeral, LabelText.Read(written)!.Chords[0].Numeral!.ToString());

    [Fact]
    public void A_key_in_brackets_is_a_key() => Assert.Equal(Key.Parse("G major"), LabelText.Read("[G] I")!.Chords[0].Key);

    [Fact]
    public void Chord_symbols_are_seen_and_not_understood_unless_they_are_allowed()
    {
        string[] expected = ["I", "V65/V", "V", "viio7/vi", "vi"], written = ["C", "D7/F#", "G", "G#dim7", "Am"];

        var refused = Mark(LabelMarking.Default, expected, written);
        var allowed = Mark(LabelMarking.Default with { Notations = LabelNotations.ChordSymbols }, expected, written);

        Assert.All(refused.Marks, m => Assert.Equal((RemarkKind.LabelUnreadable, 1.0), (m.Remark!.Kind, m.Lost)));
        Assert.Contains("a chord symbol", refused.Marks[1].Remark!.Text, StringComparison.Ordinal);
        Assert.All(allowed.Marks, m => Assert.Equal(0, m.Lost));
    }

    [Fact]
    public void A_wrong_chord_symbol_loses_what_it_says_wrongly()
    {
        var marks = Mark(LabelMarking.Default with { Notations = LabelNotations.ChordSymbols }, ["I", "V65", "I", "IV"], "C", "G7", "C",
            "Fm");

        Assert.Equal([0, 0.2, 0, 0.2], marks.Marks.Select(m => Math.Round(m.Lost, 6)));
        Assert.Equal(RemarkKind.WrongInversion, marks.Marks[1].Remark!.Kind);
    }

    [Fact]
    public void Function_letters_are_read_where_they_are_allowed()
    {
        var options = LabelMarking.Default with { Notations = LabelNotations.Functions };

        Assert.All(Mark(options, ["I", "vi", "ii6", "V7", "I"], "T", "Tp", "Sp", "D7", "T").Marks, m => Assert.Equal(0, m.Lost));
        Assert.Equal(RemarkKind.WrongDegree, Mark(options, ["I", "IV", "V", "I"], "T", "D", "D", "T").Marks[1].Remark!.Kind);
    }

    // Riemann's letters in their usual German form, from memory.
    [Theory]
    [InlineData("C major", "Tp", "vi")]
    [InlineData("C major", "Sg", "vi")]
    [InlineData("C major", "s", "iv")]
    [InlineData("C major", "DD7", "V7/V")]
    [InlineData("A minor", "tP", "III")]
    [InlineData("A minor", "dP", "VII")]
    [InlineData("A minor", "sN", "N6")]
    public void A_function_letter_means_a_degree_of_its_key(string key, string written, string numeral) =>
        Assert.Equal(Numeral.Parse(numeral), FunctionText.In(Key.Parse(key), written));

    [Theory]
    [InlineData("A7/C#", "A7/C#")]
    [InlineData("Dmin7", "Dm7")]
    [InlineData("B°7", "Bdim7")]
    [InlineData("F♯ø", "F#m7b5")]
    [InlineData("CM7", "Cmaj7")]
    [InlineData("G+", "Gaug")]
    [InlineData("B♭-", "Bbm")]
    public void A_chord_symbol_is_read_as_students_write_it(string written, string plain) =>
        Assert.Equal(ChordName.Parse(plain), ChordSymbolText.Read(written));

    [Fact]
    public void Capitals_alone_leave_the_quality_open_only_where_the_assignment_says_so()
    {
        string[] expected = ["I", "ii6", "V", "vi", "I"], written = ["C: I", "II6", "V", "VI", "I"];

        Assert.Equal(2, Mark(LabelMarking.Default, expected, written).Marks.Count(m => m.Remark?.Kind == RemarkKind.WrongQuality));
        Assert.All(Mark(LabelMarking.Default with { CapitalsByScale = true }, expected, written).Marks, m => Assert.Equal(0, m.Lost));
    }

    [Fact]
    public void A_key_that_is_nowhere_written_costs_the_key_once_unless_the_assignment_says_otherwise()
    {
        string[] expected = ["I", "IV", "V", "I"];

        var mark = Assert.Single(Mark(LabelMarking.Default, expected, "I", "IV", "V", "I").Marks, m => m.Remark is not null);
        Assert.Equal((RemarkKind.KeyMissing, 0.2), (mark.Remark!.Kind, Math.Round(mark.Lost, 6)));
        Assert.All(Mark(LabelMarking.Default with { KeyMayBeMissing = true }, expected, "I", "IV", "V", "I").Marks, m =>
            Assert.Null(m.Remark));
    }

    [Fact]
    public void A_wrong_key_is_one_mistake_however_many_labels_follow_in_it()
    {
        var marks = Mark(
            LabelMarking.Default, ["I", "V", "G major:V7", "G major:I", "G major:IV", "G major:V", "G major:I", "I"], "C: I", "V", "V7",
                "I", "IV", "V", "I", "I");

        Assert.Equal([0, 0, 0.2, 0, 0, 0, 0, 0], marks.Marks.Select(m => Math.Round(m.Lost, 6)));
        Assert.Equal(4, marks.Marks.Count(m => m.IsCarried));
    }

    [Fact]
    public void The_tonic_under_every_chord_earns_the_tonics_alone()
    {
        string[] expected = ["I", "ii6", "V", "vi", "IV", "V65", "V7", "I"];

        var marks = Mark(LabelMarking.Default, expected, "C: I", "I", "I", "I", "I", "I", "I", "I");

        Assert.Equal(6, marks.Marks.Sum(m => m.Lost));
    }

    [Fact]
    public void Without_the_degree_nothing_is_earned_where_the_teacher_says_so()
    {
        string[] expected = ["I", "ii6", "V", "I"];

        Assert.Equal(0.4, Mark(LabelMarking.Default, expected, "C: I", "vi6", "V", "I").Marks[1].Lost, 6);
        Assert.Equal(1, Mark(LabelMarking.Default with { NothingWithoutDegree = true }, expected, "C: I", "vi6", "V", "I").Marks[1].Lost);
    }

    private static LabelMarks Mark(LabelMarking options, string[] expected, params string[] written)
    {
        var score = new Score(
            "", [new Part(0, "P1", "", 1)], [.. Enumerable.Range(0, 8)
                .Select(i => new Measure(i, $"{i + 1}", 4 * i, 4, TimeSignature.Common, 0))], [], [],
            [.. written.Select((t, i) => new ScoreText(i, 0, 1, ScoreTextKind.Lyric, t, "1"))], []);
        var reading = new HarmonicReading(CMajor, [.. expected.Select((c, i) => new ChordReading(
            i, 1, c.Contains(':', StringComparison.Ordinal) ? Key.Parse(c.Split(':')[0]) : CMajor, Numeral.Parse(c.Split(':')[^1]), 1,
                []))]);
        return LabelCheck.Run(score, [], StudentLabels.Read(score, CMajor, options), reading, true, options);
    }
}
