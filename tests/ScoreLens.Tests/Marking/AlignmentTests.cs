using ScoreLens.Marking;
using ScoreLens.Marking.Alignment;
using ScoreLens.Marking.Assignments;
using ScoreLens.Notation;
using ScoreLens.Theory;
using Xunit;
using Places = ScoreLens.TestKit.Places;

namespace ScoreLens.Tests.Marking;

/// <summary>
/// A faultless submission of <c>testdata/homework</c>, handed in otherwise than it was set: the rest is still judged note by note.
/// </summary>
public sealed class AlignmentTests
{
    private static readonly string Folder = Path.Combine(Places.TestData, "homework");

    private static readonly Lazy<Marker> Marker = new(() => new Marker(Assignment()));

    private static readonly Lazy<Score> Right = new(() => ScoreFile.Load(Path.Combine(Folder, "class", "ada.musicxml")).Score);

    private static Assignment Assignment() => AssignmentFile.Load(Path.Combine(Folder, "assignment.yaml"));

    [Fact]
    public void As_it_was_set_nothing_is_said()
    {
        var marked = Mark(Right.Value);

        Assert.Equal((100, ""), (marked.Total, marked.Message));
    }

    [Fact]
    public void An_extra_pickup_is_said_and_moves_nothing_else()
    {
        var score = Later(Right.Value, 1);
        var pickup = new Measure(0, "0", 0, 1, TimeSignature.Common, 1, Mode.Major, IsImplicit: true);

        var marked = Mark(score with
        {
            Measures = [pickup, .. score.Measures.Select(m => m with { Index = m.Index + 1 })],
            Notes = [.. score.Notes.Take(2).Select(n => n with { Onset = 0 }), .. score.Notes],
        });

        Assert.Equal("Measure 0 stands before the beginning.", marked.Message);
        Assert.Equal(40, Points(marked, Criterion.PartWriting));
        Assert.True(Points(marked, Criterion.Labels) > 38, $"{Points(marked, Criterion.Labels)} points for labels.");
    }

    [Fact]
    public void A_transposed_score_is_judged_in_its_own_key()
    {
        var up = Transposed(Right.Value, 2, 2);

        var marked = Mark(up with { Texts = [.. up.Texts.Select(t => t with { Text = Moved(t.Text) })] });

        Assert.Equal((100, "The score stands a whole tone higher than the one that was set."), (marked.Total, marked.Message));

        static string Moved(string label) =>
            label.Replace("D:", "E:", StringComparison.Ordinal).Replace("G:", "A:", StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_last_measure_costs_its_share_and_nothing_twice()
    {
        var score = Right.Value;
        var end = score.Measures[^1].Start;

        var marked = Mark(score with
        {
            Measures = [.. score.Measures.SkipLast(1)],
            Notes = [.. score.Notes.Where(n => n.Onset < end)],
            Texts = [.. score.Texts.Where(t => t.Onset < end)],
        });

        Assert.Equal("Measure 8 of the score that was set is missing: 12.5 points less.", marked.Message);
        Assert.Equal(12.5, marked.DifferenceCost);
        Assert.Equal((40, 40), (Points(marked, Criterion.Labels), Points(marked, Criterion.PartWriting)));
        Assert.DoesNotContain(marked.Remarks, r => r.Beat > 4 || r.Kind == RemarkKind.LabelMissing);
    }

    [Fact]
    public void An_added_measure_is_said_and_costs_what_the_assignment_says()
    {
        var score = Right.Value;
        var (before, after) = (score.Measures.Take(4).ToList(), score.Measures.Skip(4).ToList());
        var added = before[^1] with { Index = 4, Number = "4a", Start = after[0].Start };
        var filled = score.Notes.Where(n => n.Onset >= 0 && n.Onset < 4)
            .Select(n => n with { Onset = n.Onset + added.Start, Pitch = Up(n.Pitch, 5, -1) });
        var late = Later(score with
        {
            Measures = after,
            Notes = [.. score.Notes.Where(n => n.Onset >= added.Start)],
            Texts = [.. score.Texts.Where(t => t.Onset >= added.Start)]
        }, 4);
        var changed = score with
        {
            Measures = [.. before, added, .. late.Measures.Select(m => m with { Index = m.Index + 1 })],
            Notes = [.. score.Notes.Where(n => n.Onset < added.Start), .. filled, .. late.Notes],
            Texts = [.. score.Texts.Where(t => t.Onset < added.Start), .. late.Texts],
        };

        var marked = new Marker(Assignment() with { Differences = DifferenceCosts.Default with { AddedMeasure = 3 } })
            .Mark("added", new ScoreFile(changed, null));

        Assert.Equal("Measure 4a is not in the score that was set: 3 points less.", marked.Message);
        Assert.True(Points(marked, Criterion.Labels) > 36, $"{Points(marked, Criterion.Labels)} points for labels.");
    }

    [Fact]
    public void A_section_written_out_again_is_judged_again()
    {
        var score = Right.Value;
        var again = Later(score with
        {
            Measures = [.. score.Measures.Take(4)],
            Notes = [.. score.Notes.Where(n => n.Onset < 16)],
            Texts = [.. score.Texts.Where(t => t.Onset < 16)],
        }, score.End);

        var marked = Mark(score with
        {
            Measures = [.. score.Measures, .. again.Measures.Select((m, i) => m with { Index = 8 + i, Number = $"{9 + i}" })],
            Notes = [.. score.Notes, .. again.Notes],
            Texts = [.. score.Texts, .. again.Texts],
        });

        Assert.Equal("Measures 9, 10, 11 and 12 repeat what was written before.", marked.Message);
        Assert.Equal(40, Points(marked, Criterion.Labels), 6);
    }

    [Fact]
    public void Other_note_values_are_recognised()
    {
        var score = Right.Value;

        var marked = Mark(score with
        {
            Measures = [.. score.Measures.Select(m => m with { Start = m.Start * 2, Length = m.Length * 2,
                Time = new TimeSignature(4, 2) })],
            Notes = [.. score.Notes.Select(n => n with { Onset = n.Onset * 2, Duration = n.Duration * 2 })],
            Texts = [.. score.Texts.Select(t => t with { Onset = t.Onset * 2 })],
        });

        Assert.Equal((100, "The note values are twice those of the score that was set."), (marked.Total, marked.Message));
    }

    [Theory]
    [InlineData("Bass", "Tenor", "Alto", "Soprano")]
    [InlineData("", "", "", "")]
    public void Parts_from_the_bass_up_are_the_voices_that_they_are(params string[] names)
    {
        // The four voices of two staves as four parts, the lowest first.
        var score = Right.Value;

        var marked = Mark(score with
        {
            Parts = [.. names.Select((n, i) => new Part(i, $"P{i}", n, 1))],
            Notes = [.. score.Notes.Select(n => n with { Part = 4 - int.Parse(n.Voice, System.Globalization.CultureInfo.InvariantCulture),
                Staff = 1, Voice = "1" })],
        });

        Assert.Equal((100, ""), (marked.Total, marked.Message));
    }

    [Fact]
    public void A_piano_score_of_chords_on_two_staves_is_the_same_piece()
    {
        var score = Right.Value;

        var marked = Mark(score with { Notes = [.. score.Notes.Select(n => n with { Voice = "1" })] });

        Assert.Equal((100, ""), (marked.Total, marked.Message));
    }

    [Fact]
    public void Another_piece_is_still_another_piece() => Assert.Equal(
        SubmissionStatus.WrongPiece, Marker.Value.MarkFile("yusuf", Path.Combine(Folder, "class", "yusuf.musicxml")).Status);

    private static MarkedSubmission Mark(Score score) => Marker.Value.Mark("ada", new ScoreFile(score, null));

    private static double Points(MarkedSubmission marked, Criterion criterion) => marked.Criteria.Single(c => c.Criterion == criterion)
        .Points;

    private static Score Later(Score score, Fraction time) => score with
    {
        Measures = [.. score.Measures.Select(m => m with { Start = m.Start + time })],
        Notes = [.. score.Notes.Select(n => n with { Onset = n.Onset + time })],
        Texts = [.. score.Texts.Select(t => t with { Onset = t.Onset + time })],
        Rests = [],
    };

    private static Score Transposed(Score score, int semitones, int fifths) => score with
    {
        Measures = [.. score.Measures.Select(m => m with { Signature = m.Signature + fifths })],
        Notes = [.. score.Notes.Select(n => n with { Pitch = Up(n.Pitch, semitones, fifths) })],
    };

    private static Pitch Up(Pitch pitch, int semitones, int fifths) =>
        Pitch.Between(new Tone(pitch.Tone.Fifths + fifths), pitch.Midi + semitones, pitch.Midi + semitones).Single();
}
