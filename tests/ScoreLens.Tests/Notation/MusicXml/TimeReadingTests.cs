using ScoreLens.Theory;
using Xunit;
using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Notation.MusicXml;

public sealed class TimeReadingTests
{
    [Fact]
    public void Divisions_hold_from_where_they_stand_and_onsets_stay_exact()
    {
        var score = Read(Partwise(Divisions(3) + Notes("C4 1", "D4 2") + Divisions(7) + Notes("E4 3")));
        Assert.Equal([0, new Fraction(1, 3), 1], score.Notes.Select(n => n.Onset));
        Assert.Equal(new Fraction(10, 7), score.Measures[0].Length);
    }

    [Fact]
    public void Missing_divisions_follow_from_a_note_whose_shape_is_written()
    {
        var score = Read(Partwise(Note("C4 480", after: "<type>quarter</type>") + Notes("D4 240")));
        Assert.Equal([1, new Fraction(1, 2)], score.Notes.Select(n => n.Duration));
    }

    [Fact]
    public void A_missing_duration_follows_from_type_dots_and_tuplet()
    {
        var score = Read(Partwise(Divisions(1)
            + "<note><pitch><step>C</step><octave>4</octave></pitch><type>quarter</type><dot/><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification></note>"));
        Assert.Equal(1, Assert.Single(score.Notes).Duration);
    }

    [Fact]
    public void A_backup_past_the_start_goes_to_the_start_and_fractions_of_divisions_count()
    {
        var score = Read(Partwise(Divisions(2) + Notes("C4 4") + Backup("9") + Notes("E4 1") + Backup("0.5") + Notes("G4 1")));
        Assert.Equal([0, 0, new Fraction(1, 4)], score.Notes.OrderBy(n => n.Pitch).Select(n => n.Onset));
    }

    [Fact]
    public void A_chord_note_after_other_elements_still_belongs_to_the_note_before_them()
    {
        var words = "<direction><direction-type><words>dolce</words></direction-type></direction>";
        var score = Read(Partwise(Divisions(1) + Notes("C4 2") + words + Note("E4 2", "<chord/>") + Notes("G4 1")));
        Assert.Equal([0, 0, 2], score.Notes.Select(n => n.Onset));
    }

    [Fact]
    public void Parts_share_the_longest_measure_and_a_shorter_part_ends_early()
    {
        var score = Read(Parts([Divisions(1) + Notes("C4 1"), Notes("D4 4"), Notes("E4 4")], [Divisions(2) + Notes("C3 8")]));
        Assert.Equal([0, 4, 8], score.Measures.Select(m => m.Start));
        Assert.Equal(12, score.End);
    }

    [Fact]
    public void A_rest_through_the_measure_is_as_long_as_the_metre_says_even_when_written_as_a_whole_rest()
    {
        var score = Read(Partwise(Time("3", 4) + Divisions(1) + "<note><rest measure=\"yes\"/><duration>4</duration></note>",
            Notes("C4 3")));
        Assert.Equal([3, 3], score.Measures.Select(m => m.Length));
        Assert.Equal(3, Assert.Single(score.Rests).Duration);
    }

    [Fact]
    public void A_measure_in_which_nothing_is_written_has_its_nominal_length() =>
        Assert.Equal([2, 2], Read(Partwise(Divisions(1) + Time("2", 4) + Notes("C4 2"), "")).Measures.Select(m => m.Length));

    [Fact]
    public void Timewise_and_partwise_say_the_same()
    {
        var partwise = Parts([Divisions(1) + Notes("C4 4"), Notes("D4 4")], [Divisions(2) + Notes("E3 8"), Notes("F3 8")]);
        var timewise = "<score-timewise><part-list><score-part id=\"P1\"><part-name>Part 1</part-name></score-part><score-part "
            + "id=\"P2\"><part-name>Part 2</part-name></score-part></part-list>"
            + $"<measure number=\"1\"><part id=\"P1\">{Divisions(1)}{Notes("C4 4")}</part><part "
            + $"id=\"P2\">{Divisions(2)}{Notes("E3 8")}</part></measure>"
            + $"<measure number=\"2\"><part id=\"P1\">{Notes("D4 4")}</part><part "
            + $"id=\"P2\">{Notes("F3 8")}</part></measure></score-timewise>";
        var (a, b) = (Read(partwise), Read(timewise));
        Assert.Equal(a.Notes, b.Notes);
        Assert.Equal(a.Measures, b.Measures);
        Assert.Equal(a.Parts, b.Parts);
    }

    [Fact]
    public void A_measure_written_as_two_counts_on_without_a_mark_when_both_halves_fill_it()
    {
        var measures = Read(Partwise(
            "<measure number=\"0\">" + Divisions(1) + Notes("C4 1") + "</measure>",
            "<measure number=\"1\">" + Notes("C4 4") + "</measure>",
            "<measure number=\"2\">" + Notes("C4 3") + "</measure>",
            "<measure number=\"3\">" + Notes("C4 1") + "</measure>",
            "<measure number=\"4\">" + Notes("C4 3") + "</measure>")).Measures;
        Assert.Equal([4, 1, 1, 4, 1], measures.Select(m => m.BeatAt(m.Start)));
    }

    [Fact]
    public void A_time_signature_at_the_end_of_a_measure_is_for_the_next_one()
    {
        var score = Read(Partwise(Divisions(1) + Notes("C4 4") + Time("3", 4), Notes("D4 3")));
        Assert.Equal(["4/4", "3/4"], score.Measures.Select(m => $"{m.Time.Beats}/{m.Time.BeatType}"));
    }

    [Fact]
    public void Figures_under_one_note_advance_by_their_duration()
    {
        static string Figure(string number) => $"<figured-bass><figure><figure-number>{number}</figure-number></figure><duration>1</duration></figured-bass>";
        var score = Read(Partwise(Divisions(1) + Notes("C4 1") + Figure("4") + Figure("3") + Notes("G3 2")));
        Assert.Equal([(1, "4"), (2, "3")], score.Texts.Select(t => ((int)t.Onset.Numerator, t.Text)));
    }

    [Fact]
    public void A_double_or_repeat_bar_line_ends_its_measure_even_when_it_opens_the_next()
    {
        var score = Read(Partwise(
            Divisions(1) + Notes("C4 4"),
            "<barline location=\"left\"><bar-style>heavy-light</bar-style><repeat direction=\"forward\"/></barline>" + Notes("C4 4")
            + "<barline location=\"right\"><bar-style>light-light</bar-style></barline>",
            "<barline location=\"middle\"><bar-style>light-light</bar-style></barline>" + Notes("C4 4")));
        Assert.Equal([true, true, false], score.Measures.Select(m => m.EndsWithBarline));
    }

    [Theory]
    [InlineData("1")]
    [InlineData("2")]
    public void Empty_measures_under_a_repeat_sign_hold_the_music_before_it(string length)
    {
        var start = $"<attributes><measure-style><measure-repeat type=\"start\">{length}</measure-repeat></measure-style></attributes>";
        var stop = "<attributes><measure-style><measure-repeat type=\"stop\"/></measure-style></attributes>";
        var full = "<note><rest measure=\"yes\"/><duration>4</duration></note>";
        var score = Read(Partwise(Divisions(1) + Notes("C4 4"), Notes("D4 2", "E4 2"), start + full, full, stop + full));
        var expected = length == "1" ? "C4 D4 E4 D4 E4 D4 E4" : "C4 D4 E4 C4 D4 E4";
        Assert.Equal(expected, string.Join(' ', score.Notes.Select(n => n.Pitch)));
        Assert.Equal(16, Assert.Single(score.Rests).Onset);
    }

    [Fact]
    public void A_repeat_sign_over_written_music_adds_nothing()
    {
        var start = "<attributes><measure-style><measure-repeat type=\"start\">1</measure-repeat></measure-style></attributes>";
        Assert.Equal(2, Read(Partwise(Divisions(1) + Notes("C4 4"), start + Notes("C4 4"))).Notes.Count);
    }

    [Fact]
    public void A_beat_repeat_holds_the_beat_before_it()
    {
        var start = "<attributes><measure-style><beat-repeat type=\"start\" slashes=\"1\"/></measure-style></attributes>";
        var score = Read(Partwise(Divisions(2) + Notes("C4 1", "E4 1") + start + Notes("rest 6")));
        Assert.Equal("C4 E4 C4 E4 C4 E4 C4 E4", string.Join(' ', score.Notes.Select(n => n.Pitch)));
    }
}
