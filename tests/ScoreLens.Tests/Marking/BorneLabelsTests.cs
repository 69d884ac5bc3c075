using ScoreLens.Marking;
using ScoreLens.Marking.Labels;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.PlantedFaults;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>
/// Labels that the notes bear as well as the expected one, where the program's reading and not a model answer is the measure. The readings
/// are given here, so that nothing depends on what the model hears.
/// </summary>
public sealed class BorneLabelsTests
{
    // The dominant's seventh enters on its second beat; the tonic's bass goes from the root to the third.
    private static readonly Exercise Phrase = Doubted(Exercise.Of("C major", "V7:2 I:2 V:2 I:2",
        "G4:1 F4:1 E4:2 D4:2 E4:2", "D4:2 C4:2 B3:2 C4:2", "B3:2 G3:2 G3:2 G3:2", "G2:2 C3:1 E3:1 G2:2 C3:2"));

    [Theory]
    [InlineData("V7", "I", "", "")]
    [InlineData("V", "I", "accepted-equivalent", "“C: V” is right. The seventh sounds during a part of the chord only.")]
    [InlineData("V7", "I6", "wrong-inversion", "")]
    public void A_part_of_the_chord_may_speak_for_another_label(string first, string second, string kind, string text)
    {
        var remarks = Remarks(false, (0, $"C: {first}"), (2, second), (4, "V"), (6, "I"));
        if (kind.Length == 0) Assert.Empty(remarks);
        else Assert.Equal(kind, Assert.Single(remarks).Kind.Name());
        if (text.Length > 0) Assert.Equal(text, remarks[0].Text);
    }

    [Fact]
    public void The_bass_counts_where_the_label_stands()
    {
        // The tonic is read as I6 by the bass on its second beat; the label stands under the root.
        var chords = Phrase.Reading.Chords.Select((c, i) => i == 1 ? c with { Numeral = Numeral.Parse("I6") } : c);
        var reading = Phrase.Reading with { Chords = [.. chords] };
        var remark = Assert.Single(Remarks(false, Phrase with { Reading = reading }, (0, "C: V7"), (2, "I"), (4, "V"), (6, "I")));
        Assert.Equal("“I” is right. The bass moves while the chord lasts.", remark.Text);
    }

    [Fact]
    public void A_model_answer_is_demanded_as_it_is() =>
        Assert.Equal("wrong-quality", Assert.Single(Remarks(true, (0, "C: V"), (2, "I"), (4, "V"), (6, "I"))).Kind.Name());

    [Fact]
    public void A_seventh_that_never_sounds_is_wrong_as_before() =>
        Assert.Equal("wrong-quality", Assert.Single(Remarks(false, (0, "C: V7"), (2, "I"), (4, "V7"), (6, "I"))).Kind.Name());

    [Fact]
    public void Figures_that_were_given_decide()
    {
        var chords = Phrase.Reading.Chords.Select(c => c with { Confidence = 1 });
        var certain = Phrase with { Reading = Phrase.Reading with { Chords = [.. chords] } };
        Assert.DoesNotContain(Remarks(false, certain, (0, "C: V"), (2, "I"), (4, "V"), (6, "I")), r => r.Text.Contains("seventh sounds",
            StringComparison.Ordinal));
    }

    // A suspension over the second chord: ii7 and viio6 have all but one of its notes each.
    private static readonly Exercise Held = Doubted(Exercise.Of("C major", "I:2 viio6:2 I6:2",
        "C5:2 C5:1 B4:1 C5:2", "E4:2 F4:2 G4:2", "G3:2 F3:2 G3:2", "C3:2 D3:2 E3:2"), 0.7);

    [Theory]
    [InlineData("ii7", "accepted-equivalent", "“ii7” is right. It accounts for the notes here as well as vii°⁶ does.")]
    [InlineData("IV6", "wrong-degree", "")]
    [InlineData("ii", "wrong-degree", "")]
    [InlineData("V43", "wrong-degree", "")]
    public void Where_a_note_is_held_over_two_readings_may_be_right(string label, string kind, string text)
    {
        var remark = Assert.Single(Remarks(false, Held, (0, "C: I"), (2, label), (4, "I6")));
        Assert.Equal(kind, remark.Kind.Name());
        if (text.Length > 0) Assert.Equal(text, remark.Text);
    }

    [Fact]
    public void Where_the_program_is_sure_a_suspension_is_no_chord() => Assert.Equal("wrong-degree",
        Remarks(false, Doubted(Held), (0, "C: I"), (2, "ii7"), (4, "I6"))[0].Kind.Name());

    // The fourth and the sixth above the dominant's bass resolve by step.
    private static readonly Exercise Delayed = Doubted(Exercise.Of("C major", "ii6:2 Cad64:1 V:1 I:2",
        "D5:2 C5:1 B4:1 C5:2", "A4:2 E4:1 D4:1 E4:2", "D4:2 G3:2 G3:2", "F3:2 G3:2 C3:2"), 0.7);

    [Theory]
    [InlineData("V", "accepted-equivalent")]
    [InlineData("V6", "wrong-degree")]
    [InlineData("vi", "wrong-degree")]
    public void A_label_may_name_the_chord_that_is_delayed(string label, string kind)
    {
        var remark = Remarks(false, Delayed, (0, "C: ii6"), (2, label), (4, "I"))[0];
        Assert.Equal(kind, remark.Kind.Name());
        if (label == "V")
            Assert.Equal("“V” is right. What sounds here and does not belong to it moves by step into it.", remark.Text);
    }

    [Fact]
    public void A_label_inside_a_chord_may_name_its_other_inversion()
    {
        var passing = Doubted(Exercise.Of("C major", "V7:2 I:2 V:2", "G4:1 F4:1 E4:1 D4:1 D4:2", "D4:2 C4:2 B3:2", "B3:2 G3:2 G3:2",
            "G2:2 C3:1 E3:1 G2:2"));
        var remark = Assert.Single(Remarks(false, passing, (0, "C: V7"), (2, "I"), (3, "I6"), (4, "V")));
        Assert.Equal("“I6” is right. The bass moves while the chord lasts.", remark.Text);
        Assert.Equal("label-extra", Assert.Single(Remarks(false, passing, (0, "C: V7"), (2, "I"), (3, "I64"), (4, "V"))).Kind.Name());
    }

    [Fact]
    public void A_key_that_is_touched_and_a_chord_applied_to_it_are_one()
    {
        var remark = Remarks(false, Phrase, (0, "F: V7/V"), (2, "V"), (4, "C: V"), (6, "I"))[0];
        Assert.Equal("“F: V7/V” is right. V7/V in F major is the same chord as V7 in C major.", remark.Text);
    }

    // As sure as the program is of a clear chord.
    private static Exercise Doubted(Exercise exercise, double confidence = 0.9) => exercise with
    {
        Reading = exercise.Reading with { Chords = [.. exercise.Reading.Chords.Select(c => c with { Confidence = confidence })] },
    };

    private static IReadOnlyList<Remark> Remarks(bool isModel, params (int Onset, string Text)[] labels) =>
        Remarks(isModel, Phrase, labels);

    private static IReadOnlyList<Remark> Remarks(bool isModel, Exercise exercise, params (int Onset, string Text)[] labels)
    {
        var score = exercise.Score with { Texts = [.. labels.Select(l => new ScoreText(l.Onset, 3, 1, ScoreTextKind.Lyric, l.Text, "2"))] };
        var student = StudentLabels.Read(score, exercise.Reading.HomeKey);
        var marks = LabelCheck.Run(score, SonorityFinder.Find(score), student, exercise.Reading, isModel, LabelMarking.Default);
        return [.. marks.Marks.Select(m => m.Remark).OfType<Remark>()];
    }
}
