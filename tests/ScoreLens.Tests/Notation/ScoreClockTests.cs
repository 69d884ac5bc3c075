using System.Text;
using System.Text.RegularExpressions;
using ScoreLens.Notation;
using Xunit;

namespace ScoreLens.Tests.Notation;

/// <summary>Places by rehearsal mark and by the clock.</summary>
public sealed class ScoreClockTests
{
    // Four measures of 4/4 at quarter = 120, then at half = 30 (the same as quarter = 60): two seconds a measure, then four.
    private const string TwoTempos = """
        1: <direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>120</per-minute></metronome></direction-type></direction>
        3: <direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>30</per-minute></metronome></direction-type></direction>
        """;

    [Fact]
    public void Times_follow_from_metronome_marks()
    {
        var clock = ScoreClock.Of(Score(4, TwoTempos), new ClockOptions())!;
        Assert.Equal([0, 2, 4, 8], Enumerable.Range(0, 4).Select(m => clock.SecondsAt(4 * m)));
        Assert.Equal(3.5, clock.SecondsAt(7));
        Assert.Equal("0:00:08.0", clock.TextAt(12));
    }

    [Fact]
    public void What_a_program_plays_goes_before_what_it_prints_and_a_dotted_unit_counts_its_dot()
    {
        // MusicXML 4.0, sound: tempo is expressed as quarter notes per minute.
        var played = Score(2, "1: <direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>c. "
            + "90</per-minute></metronome></direction-type><sound tempo=\"80\"/></direction>");
        Assert.Equal(80, Assert.Single(played.Tempos).QuartersPerMinute);
        var dotted = Score(2, "1: <direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>c. "
            + "80-90</per-minute></metronome></direction-type></direction>");
        Assert.Equal(120, Assert.Single(dotted.Tempos).QuartersPerMinute);
        Assert.Empty(Score(2, "1: <sound tempo=\"0\"/>").Tempos);
    }

    [Fact]
    public void Without_a_tempo_there_is_no_time_but_that_of_the_option()
    {
        var score = Score(4, "");
        Assert.Null(ScoreClock.Of(score, new ClockOptions()));
        Assert.Equal(4, ScoreClock.Of(score, new ClockOptions { Tempo = 60 })!.SecondsAt(4));
    }

    [Theory]
    [InlineData("01:02:03:12", 24, 3723.5)]
    [InlineData("0:01:23.5", 0, 83.5)]
    [InlineData("0:00:59", 0, 59)]
    public void A_time_is_read_and_written(string text, int frames, double seconds)
    {
        var options = new ClockOptions { Frames = frames };
        Assert.Equal(seconds, options.Seconds(text));
        Assert.Equal(seconds, options.Seconds(options.Text(seconds)));
    }

    [Theory]
    [InlineData("1:23", 0)]
    [InlineData("0:61:00", 0)]
    [InlineData("00:00:01:24", 24)]
    [InlineData("00:00:01:10", 0)]
    [InlineData("a:b:c", 0)]
    public void What_is_no_time_is_refused(string text, int frames) => Assert.Null(new ClockOptions { Frames = frames }.Seconds(text));

    [Fact]
    public void A_cue_starts_where_the_production_says()
    {
        var options = new ClockOptions { Frames = 24 };
        var clock = ScoreClock.Of(Score(4, TwoTempos), options with { Start = options.Seconds("01:02:03:12")!.Value })!;
        Assert.Equal("01:02:03:12", clock.TextAt(0));
        Assert.Equal("01:02:05:12", clock.TextAt(4));
        Assert.Equal([4], clock.PlacesAt(options.Seconds("01:02:05:12")!.Value));
        Assert.Empty(clock.PlacesAt(0));
    }

    [Fact]
    public void Repeats_and_endings_are_counted_as_played_when_asked()
    {
        // Measures 1 |: 2 | 3 first ending :| 4 second ending | 5: played 1 2 3 2 4 5.
        var score = Score(5, """
            1: <direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>
            2: <barline location="left"><repeat direction="forward"/></barline>
            3: <barline location="left"><ending number="1" type="start"/></barline>
            3+: <barline location="right"><ending number="1" type="stop"/><repeat direction="backward"/></barline>
            4: <barline location="left"><ending number="2" type="start"/></barline>
            4+: <barline location="right"><ending number="2" type="discontinue"/></barline>
            """);
        Assert.Equal([0, 1, 2, 1, 3, 4], PlayedOrder.Of(score.Measures).Measures);
        var written = ScoreClock.Of(score, new ClockOptions())!;
        var played = ScoreClock.Of(score, new ClockOptions { AsPlayed = true })!;
        Assert.Equal([0, 4, 8, 12, 16], score.Measures.Select(m => written.SecondsAt(m.Start)));
        Assert.Equal([0, 4, 8, 16, 20], score.Measures.Select(m => played.SecondsAt(m.Start)));
    }

    [Theory]
    [InlineData("2+: <barline><repeat direction='backward'/></barline>", "0 1 0 1 2 3")]
    [InlineData("2+: <barline><repeat direction='backward' times='3'/></barline>", "0 1 0 1 0 1 2 3")]
    [InlineData("2+: <barline><repeat direction='backward'/></barline>\n4+: <barline><repeat direction='backward'/></barline>",
        "0 1 0 1 2 3 2 3")]
    [InlineData("3: <barline location='left'><repeat direction='forward'/></barline>", "0 1 2 3")]
    public void A_section_is_repeated_from_its_sign_or_from_where_the_last_one_ended(string signs, string order) =>
        Assert.Equal(order, string.Join(' ', PlayedOrder.Of(Score(4, signs).Measures).Measures));

    // What is printed, as in any handbook of notation, and what MusicXML 4.0 states in the element sound.
    [Theory]
    [InlineData("2+: {Fine}\n4+: {D.C. al Fine}", "0 1 2 3 0 1", "measures 5 to 6: not reached, so no time is given")]
    [InlineData("2: <direction><direction-type><segno/></direction-type></direction>\n3+: {Fine}\n6+: {D.S. al Fine}",
        "0 1 2 3 4 5 1 2", "")]
    [InlineData("2+: {To Coda}\n4+: {D.C. al Coda}\n5: {Coda}", "0 1 2 3 0 1 4 5", "")]
    [InlineData("2: [segno='1']\n3+: [tocoda='1']\n4+: [dalsegno='1']\n5: [coda='1']", "0 1 2 3 1 2 4 5", "")]
    [InlineData("3: [fine='yes']\n6: [dacapo='yes']", "0 1 2 3 4 5 0 1 2", "")]
    [InlineData("2+: <direction><direction-type><coda/></direction-type></direction>\n4+: {D.C.}\n5: "
        + "<direction><direction-type><coda/></direction-type></direction>",
        "0 1 2 3 0 1 4 5", "")]
    // A repeat is not taken again after the return, and the last ending is.
    [InlineData("2+: <barline><repeat direction='backward'/></barline>\n4+: {Fine}\n6: {Da capo al fine}", "0 1 0 1 2 3 4 5 0 1 2 3", "")]
    [InlineData("2: <barline location='left'><ending number='1' type='start'/></barline>\n"
        + "2+: <barline><ending number='1' type='stop'/><repeat direction='backward'/></barline>\n"
        + "3: <barline location='left'><ending number='2' type='start'/></barline>\n3+: {Fine}<barline><ending number='2' "
        + "type='stop'/></barline>\n"
        + "6+: {D.C. al Fine}", "0 1 0 2 3 4 5 0 2", "")]
    // What the score does not say is not guessed, but said.
    [InlineData("6+: {D.C.}", "0 1 2 3 4 5", "measure 6: da capo is not followed, as there is neither a fine nor a coda")]
    [InlineData("2+: {Fine}\n6+: {D.S. al Fine}", "0 1 2 3 4 5", "measure 6: dal segno is not followed, as there is no segno before it")]
    [InlineData("2+: {Fine}\n6+: {D.C. al Coda}", "0 1 2 3 4 5",
        "measure 6: da capo is not followed, as there is no coda or no place to leave for it")]
    public void A_return_is_played_as_it_is_written(string signs, string order, string problem)
    {
        var played = PlayedOrder.Of(Score(6, Regex.Replace(
            signs.Replace("{", "<direction><direction-type><words>").Replace("}", "</words></direction-type></direction>"),
            @"\[(.*?)\]", "<direction><direction-type><words/></direction-type><sound $1/></direction>")).Measures);
        Assert.Equal(order, string.Join(' ', played.Measures));
        Assert.Equal(problem, string.Join("; ", played.Problems));
    }

    [Fact]
    public void The_coda_comes_on_the_clock_after_the_return()
    {
        var score = Score(6, """
            1: <direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>
            2+: <direction><direction-type><words>To Coda</words></direction-type></direction>
            4+: <direction><direction-type><words>D.C. al Coda</words></direction-type></direction>
            5: <direction><direction-type><coda/></direction-type></direction>
            """);
        var played = ScoreClock.Of(score, new ClockOptions { AsPlayed = true })!;
        Assert.Equal([0, 4, 8, 12, 24, 28], score.Measures.Select(m => played.SecondsAt(m.Start)));
        Assert.Empty(played.Unfollowed);
    }

    [Fact]
    public void A_place_is_counted_from_the_last_rehearsal_mark()
    {
        var marks = RehearsalMarks.Of(Score(6, """
            2: <direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>
            4: <direction><direction-type><rehearsal>B</rehearsal></direction-type></direction>
            """));
        Assert.Equal(["", "A", "A+1", "B", "B+1", "B+2"], Enumerable.Range(0, 6).Select(m => marks.At(4 * m)));
        Assert.Equal("5", Assert.Single(marks.Find("B+1")).Number);
        Assert.Equal("2", Assert.Single(marks.Find("a")).Number);
        Assert.Empty(marks.Find("C"));
        Assert.Empty(marks.Find("B+9"));
    }

    [Fact]
    public void A_midi_file_states_its_tempo()
    {
        // Standard MIDI Files 1.0: FF 51 03 is the tempo in microseconds a quarter note; 07 A1 20 is half a second.
        byte[] track =
        [
            0x00, 0xFF, 0x51, 0x03, 0x07, 0xA1, 0x20, 0x00, 0x90, 60, 90, 0x8F, 0x00, 0x80, 60, 0, 0x00, 0xFF, 0x2F, 0x00,
        ];
        var read = ScoreFile.Parse([.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0x01, 0xE0, .. "MTrk"u8, 0, 0, 0, (byte)track.Length,
            .. track]).Score;
        Assert.Equal(new TempoMark(0, 120), Assert.Single(read.Tempos));
    }

    // Measures of a whole note each; a line "3: x" puts x at the start of the third, "3+: x" at its end.
    private static Score Score(int measures, string contents)
    {
        var at = contents.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(l => l.Trim().Split(": ", 2)).ToLookup(l => l[0], l => l[1]);
        var xml = new StringBuilder("<score-partwise version=\"4.0\"><part-list><score-part "
            + "id=\"P1\"><part-name>Flute</part-name></score-part></part-list><part id=\"P1\">");
        for (var m = 1; m <= measures; m++)
        {
            xml.Append($"<measure number=\"{m}\">{string.Concat(at[$"{m}"].Where(x => x.StartsWith("<barline", StringComparison.Ordinal)))}");
            if (m == 1) xml.Append("<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>");
            xml.Append($"{string.Concat(at[$"{m}"].Where(x => !x.StartsWith("<barline", StringComparison.Ordinal)))}");
            xml.Append($"<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>{string.Concat(at[$"{m}+"])}</measure>");
        }

        return ScoreFile.Parse(Encoding.UTF8.GetBytes(xml.Append("</part></score-partwise>").ToString())).Score;
    }
}
