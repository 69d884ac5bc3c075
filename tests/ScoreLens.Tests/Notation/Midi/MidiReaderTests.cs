using CsCheck;
using ScoreLens.Notation;
using ScoreLens.Notation.Midi;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Output.Midi;
using ScoreLens.Output.Reduction;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Notation.Midi;

/// <summary>MIDI as sequencers write it; the bytes are those of the Standard MIDI Files specification (MIDI Association, RP-001).</summary>
public sealed class MidiReaderTests
{
    [Fact]
    public void Running_status_zero_velocity_and_a_missing_end_of_track_are_read()
    {
        // C4 and E4 a quarter each, both released by a note-on of velocity 0 under running status; no end of track.
        var score = MidiReader.Read(File0(96, [0x00, 0x90, 60, 80, 0x60, 60, 0, 0x00, 64, 80, 0x60, 64, 0]));
        Assert.Equal(["C4 0 1", "E4 1 1"], Lines(score));
        Every.Item(score.Notes, n => Assert.True(n.Marks.HasFlag(NoteMarks.GuessedSpelling)));
    }

    [Fact]
    public void A_type_0_file_falls_into_a_part_a_channel_and_channel_10_is_percussion()
    {
        var score = MidiReader.Read(File0(96, [0x00, 0x90, 60, 80, 0x00, 0x91, 48, 80, 0x00, 0x99, 36, 80, 0x60, 0x80, 60, 0, 0x00, 0x81,
            48, 0, 0x00, 0x89, 36, 0, 0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal([false, false, true], score.Parts.Select(p => p.IsPercussion));
        Assert.Equal(["C3 0 1", "C4 0 1"], Lines(score).Order());
    }

    [Fact]
    public void Time_and_key_signatures_make_measures_and_tempo_changes_nothing()
    {
        // 6/8, three flats in minor, a tempo, then C4 for nine eighths.
        var score = MidiReader.Read(File0(96, [
            0x00, 0xFF, 0x58, 4, 6, 3, 24, 8, 0x00, 0xFF, 0x59, 2, 0xFD, 1, 0x00, 0xFF, 0x51, 3, 0x07, 0xA1, 0x20,
            0x00, 0x90, 60, 80, 0x83, 0x30, 0x80, 60, 0, 0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal([3, 3], score.Measures.Select(m => m.Length));
        Every.Item(
            score.Measures, m => Assert.Equal((6, 8, -3, Mode.Minor), (m.Time.Beats, m.Time.BeatType, m.Signature, m.SignatureMode)));
    }

    [Fact]
    public void A_key_pressed_again_before_its_release_is_two_notes()
    {
        var score = MidiReader.Read(File0(96, [0x00, 0x90, 60, 80, 0x60, 0x90, 60, 80, 0x60, 0x80, 60, 0, 0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal(["C4 0 1", "C4 1 1"], Lines(score));
    }

    [Fact]
    public void The_sustain_pedal_holds_a_note_until_it_is_lifted()
    {
        var score = MidiReader.Read(File0(96, [0x00, 0xB0, 64, 127, 0x00, 0x90, 60, 80, 0x60, 0x80, 60, 0, 0x60, 0xB0, 64, 0, 0x00, 0x90,
            62, 80, 0x60, 0x80, 62, 0, 0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal(["C4 0 2", "D4 2 1"], Lines(score));
    }

    [Fact]
    public void A_played_rhythm_is_laid_on_sixteenths_and_triplets()
    {
        // Quarter, triplet eighths, eighth and two sixteenths at 480 ticks, each early or late by up to 14 ticks; then held a little short.
        long[] starts = [3, 488, 630, 812, 950, 1203, 1313, 1448];
        Fraction[] expected = [0, 1, new(4, 3), new(5, 3), 2, new(5, 2), new(11, 4), 3];
        var score = MidiReader.Read(Played(starts, 480));
        Assert.Equal(expected, score.Notes.Select(n => n.Onset));
        Assert.Equal(new Fraction(1, 3), score.Notes[1].Duration);
    }

    [Theory]
    [InlineData("from the beat upwards", "0 55 110 165")]
    [InlineData("upwards to the beat", "-165 -110 -55 0")]
    public void A_rolled_chord_is_one_chord(string name, string offsets)
    {
        // 480 ticks a quarter at 120 quarters a minute: 55 ticks are 57 ms. A chord on the second beat, held to the fourth.
        var starts = offsets.Split(' ').Select(long.Parse).ToArray();
        int[] keys = [48, 55, 64, 72];
        var score = MidiReader.Read(Performed([(0, 470, 60), .. keys.Select((k, i) => (480 + starts[i], 1430L, k)), (1440, 1900, 67)]));
        Assert.True(score.Notes.Where(n => keys.Contains(n.Pitch.Midi)).All(n => n.Onset == 1 && n.Duration == 2), name);
        Assert.Equal(6, score.Notes.Count);
    }

    [Fact]
    public void A_fast_run_is_no_chord()
    {
        // Sixteenth triplets at 240 quarters a minute, 42 ms each: every key is let go before the next but one.
        var score = MidiReader.Read(Performed(
            [.. Enumerable.Range(0, 12).Select(i => ((80L * i) + (i % 2), (80L * i) + 85, 60 + i)), (960, 1900, 72)], tempo: 250_000));
        Assert.Equal(13, score.Notes.Select(n => n.Onset).Distinct().Count());
    }

    [Fact]
    public void Chords_fifteen_milliseconds_early_or_late_are_struck_together()
    {
        // At 120 quarters a minute 15 ms are 14 ticks of 480. Eighth notes, three voices, each early or late in a fixed pattern.
        int[] early = [-14, 9, 3, 14, -7, -12, 0, 11, -3, 5, 14, -14];
        var notes = Enumerable.Range(0, 16).SelectMany(i => Enumerable.Range(0, 3).Select(v =>
        {
            var start = Math.Max(0, (240L * i) + early[((3 * i) + v) % early.Length]);
            return (start, (240L * (i + 1)) - 10, 48 + (12 * v) + (i % 5));
        }));
        var score = MidiReader.Read(Performed([.. notes]));
        Assert.Equal(Enumerable.Range(0, 16).Select(i => (new Fraction(i, 2), 3)), score.Notes.GroupBy(n => n.Onset)
            .Select(g => (g.Key, g.Count())));
    }

    [Fact]
    public void Notes_that_overlap_the_next_a_little_end_where_it_begins()
    {
        // A legato line: each key is let go 12 to 40 ticks after the next is pressed, and none of them lies on the grid.
        var score = MidiReader.Read(Performed([(3, 500, 60), (487, 990, 62), (951, 1480, 64), (1446, 1935, 65)]));
        Assert.Equal(["C4 0 1", "D4 1 1", "E4 2 1", "F4 3 1"], Lines(score));
    }

    [Fact]
    public void The_pedal_holds_a_broken_chord_until_it_is_changed()
    {
        // Pedal down, four eighths let go at once, pedal up and down again on the third beat, four more.
        var score = MidiReader.Read(Performed(
            [(2, 200, 48), (243, 430, 55), (478, 700, 60), (723, 900, 64), (961, 1160, 47), (1205, 1400, 55), (1437, 1650, 62),
                (1683, 1890, 67)],
            pedals: [(0, 955), (965, 1920)]));
        Assert.Equal([2, 2, 2, 2, 4, 4, 4, 4], score.Notes.OrderBy(n => n.Onset).Select(n => n.End));
    }

    [Fact]
    public void A_pickup_and_the_rest_of_it_at_the_end_come_back_as_they_were_written()
    {
        // A quarter before 3/4, and two quarters at the end, each marked as the notation has them.
        const string Three = "<divisions>1</divisions><time><beats>3</beats><beat-type>4</beat-type></time>";
        var score = Read($"""
            <score-partwise version="4.0"><part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list><part id="P1">
            <measure number="0" implicit="yes">{Attributes(Three)}{Notes("G4 1")}</measure>
            <measure number="1">{Notes("C5 2", "D5 1")}</measure><measure number="2">{Notes("E5 3")}</measure>
            <measure number="3">{Notes("C5 2")}</measure></part></score-partwise>
            """);
        var back = MidiReader.Read(MidiWriter.Write(score));
        Assert.Equal(
            ["0 0 1 3/4 2", "1 1 3 3/4 0", "2 4 3 3/4 0", "3 7 2 3/4 0"],
            back.Measures.Select(m => $"{m.Number} {m.Start} {m.Length} {m.Time.Beats}/{m.Time.BeatType} {m.PickupOffset}"));
        Assert.Equal(SonorityFinder.Find(score).Select(v => v.MetricalWeight), SonorityFinder.Find(back).Select(v => v.MetricalWeight));
    }

    [Fact]
    public void A_measure_that_a_repeat_cuts_is_one_measure_in_two_parts()
    {
        // 4/4; its second measure as 3/4 and 1/4, as a notation program writes what stands on both sides of a repeat; 96 ticks.
        var score = MidiReader.Read(File0(96, [
            0x00, 0xFF, 0x58, 4, 4, 2, 24, 8, 0x00, 0x90, 60, 80, 0x83, 0x00, 0xFF, 0x58, 4, 3, 2, 24, 8, 0x82, 0x20, 0xFF, 0x58, 4, 1, 2,
            24, 8, 0x60, 0xFF, 0x58, 4, 4, 2, 24, 8, 0x83, 0x00, 0x80, 60, 0, 0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal(
            ["1 0 4 4 0", "2 4 3 4 0", "X1 7 1 4 3", "3 8 4 4 0"],
            score.Measures.Select(m => $"{m.Number} {m.Start} {m.Length} {m.Time.Beats} {m.PickupOffset}"));
    }

    [Fact]
    public void A_change_of_metre_that_stays_is_no_pickup()
    {
        // Two measures of 2/4, then 3/4.
        var score = MidiReader.Read(File0(96, [
            0x00, 0xFF, 0x58, 4, 2, 2, 24, 8, 0x00, 0x90, 60, 80, 0x83, 0x00, 0xFF, 0x58, 4, 3, 2, 24, 8, 0x84, 0x40, 0x80, 60, 0,
            0x00, 0xFF, 0x2F, 0x00]));
        Assert.Equal(["1 2", "2 2", "3 3", "4 3"], score.Measures.Select(m => $"{m.Number} {m.Time.Beats}"));
    }

    /// <summary>Standard MIDI Files 1.0, Set Tempo: microseconds a quarter note.</summary>
    [Fact]
    public void The_tempos_of_a_score_are_written_and_stay_in_its_reduction()
    {
        var score = Read(Parts([Divisions(1) + Notes("C4 4"), Notes("G4 4"), Notes("C4 4")])) with
        {
            Tempos = [new TempoMark(0, 90), new TempoMark(4, 50)],
        };
        Assert.Equal([(0, 90.0), (4, 50.0)], Tempos(MidiWriter.Write(score)));
        Assert.Equal([(0, 90.0), (4, 50.0)], Tempos(ReductionScore.Midi(HarmonicReduction.Of(CueAnalysis.Of(score)))));

        static IEnumerable<(Fraction, double)> Tempos(byte[] midi) =>
            MidiReader.Read(midi).Tempos.Select(t => (t.Onset, Math.Round(t.QuartersPerMinute, 3)));
    }

    /// <summary>A file can only say that its first measure is short: 1/4 before 4/4 counts in nobody's bars, 2/4 may.</summary>
    [Theory]
    [InlineData(2, "D5 4", "1 2/4 0, 2 4/4 0, 3 4/4 0")]
    [InlineData(2, "D5 2", "0 4/4 2, 1 4/4 0, 2 4/4 0")]
    [InlineData(1, "D5 4", "0 4/4 3, 1 4/4 0, 2 4/4 0")]
    public void A_first_measure_of_two_four_is_a_pickup_where_the_last_measure_lacks_it(int beats, string last, string measures)
    {
        var time = $"<divisions>1</divisions><time><beats>{beats}</beats><beat-type>4</beat-type></time>";
        const string Four = "<time><beats>4</beats><beat-type>4</beat-type></time>";
        var rest = last == "D5 2" ? Notes("rest 2") : "";
        var back = MidiReader.Read(MidiWriter.Write(Read($"""
            <score-partwise version="4.0"><part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list><part id="P1">
            <measure number="1">{Attributes(time)}{Notes($"G4 {beats}")}</measure>
            <measure number="2">{Attributes(Four)}{Notes("C5 4")}</measure><measure number="3">{Notes(last)}{rest}</measure></part></score-partwise>
            """)));
        Assert.Equal(measures, string.Join(", ", back.Measures.Select(m =>
            $"{m.Number} {m.Time.Beats}/{m.Time.BeatType} {m.PickupOffset}")));
    }

    [Fact]
    public void What_is_written_as_midi_is_read_back_with_its_onsets_lengths_and_metre()
    {
        var score = Read(Parts(
            [Attributes("<divisions>12</divisions><key><fifths>-2</fifths><mode>minor</mode></key><time><beats>3</beats><beat-type>4</beat-type></time>")
                + Notes("G4 12", "Bb4 4", "A4 4", "G4 4", "F#4 3", "G4 9"), Notes("G4 36")],
            [Divisions(1) + Notes("G3 1", "D3 1", "rest 1"), Notes("G2 3")]));
        var back = MidiReader.Read(MidiWriter.Write(score));
        Assert.Equal(Lines(score), Lines(back));
        Assert.Equal(score.Measures.Select(m => (m.Start, m.Length, m.Time, m.Signature, m.SignatureMode)),
            back.Measures.Select(m => (m.Start, m.Length, m.Time, m.Signature, m.SignatureMode)));
        Assert.Equal(score.Rests.Select(r => (r.Onset, r.Duration, r.Part)), back.Rests.Select(r => (r.Onset, r.Duration, r.Part)));
    }

    [Fact]
    public void Chorales_come_back_with_every_onset_and_nearly_every_spelling()
    {
        long notes = 0, spelled = 0;
        foreach (var path in Places.Scores(Places.External("works", "open", "chorales")))
        {
            var score = MusicXmlReader.Read(MusicXmlDocument.Load(path));
            var back = MidiReader.Read(MidiWriter.Write(score)).Notes.ToDictionary(n => (n.Part, n.Pitch.Midi, n.Onset));
            foreach (var note in SonorityFinder.JoinTies(score.Notes))
            {
                Assert.True(back.TryGetValue((note.Part, note.Pitch.Midi, note.Onset), out var read), $"{path}: {note}");
                notes++;
                if (read.Pitch == note.Pitch) spelled++;
            }
        }

        // Meredith (2006) reports above 99 % of notes on a corpus of his own; the benchmark 'midi' prints ours.
        Assert.True(spelled > 0.995 * notes, $"{spelled} of {notes}");
    }

    [Theory]
    [InlineData(new byte[] { (byte)'M', (byte)'T', (byte)'h', (byte)'d' }, "header")]
    [InlineData(new byte[] { (byte)'M', (byte)'T', (byte)'h', (byte)'d', 0, 0, 0, 6, 0, 2, 0, 1, 0, 96 }, "type 2")]
    [InlineData(new byte[] { (byte)'M', (byte)'T', (byte)'h', (byte)'d', 0, 0, 0, 6, 0, 1, 0, 1, 0xE7, 40 }, "film")]
    [InlineData(new byte[] { (byte)'M', (byte)'T', (byte)'h', (byte)'d', 0, 0, 0, 6, 0, 1, 0, 0, 0, 96 }, "no notes")]
    public void What_has_no_notes_or_no_beats_is_refused_with_the_reason(byte[] bytes, string says) =>
        Assert.Contains(says, Assert.Throws<ScoreFormatException>(() => ScoreFile.Parse(bytes)).Message, StringComparison.Ordinal);

    [Fact]
    public void Any_edit_of_a_file_gives_a_score_or_a_format_error()
    {
        var file = MidiWriter.Write(Read(Partwise(Divisions(2) + Notes("C4 1", "E4 2", "G4 1", "C5 4"), Notes("B4 4", "C5 4"))), 480);
        Gen.Select(Gen.Select(Gen.Int[0, file.Length - 1], Gen.Byte).Array[1, 5], Gen.Int[0, file.Length * 3]).Sample(
            (edits, length) =>
            {
                var bytes = file.ToArray();
                foreach (var (place, value) in edits) bytes[place] = value;
                try
                {
                    SonorityFinder.Find(MidiReader.Read(bytes[..Math.Min(bytes.Length, length)]));
                }
                catch (ScoreFormatException e)
                {
                    Assert.NotEmpty(e.Message);
                }
            },
            iter: 3000);
    }

    private static IEnumerable<string> Lines(Score score) => score.Notes.Select(n => $"{n.Pitch} {n.Onset} {n.Duration}");

    private static byte[] File0(int ticks, byte[] track) =>
        [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, (byte)(ticks >> 8), (byte)(ticks & 0xFF), .. "MTrk"u8, 0, 0, (byte)(track.Length >> 8),
            (byte)(track.Length & 0xFF), .. track];

    private static byte[] Performed((long Start, long End, int Key)[] notes, (long Down, long Up)[]? pedals = null, int tempo = 500_000)
    {
        var events = notes.SelectMany(n => new (long Tick, byte[] Message)[]
            { (n.Start, [0x90, (byte)n.Key, 80]), (n.End, [0x80, (byte)n.Key, 0]) })
            .Concat((pedals ?? []).SelectMany(p => new (long Tick, byte[] Message)[] { (p.Down, [0xB0, 64, 127]), (p.Up, [0xB0, 64, 0]) }))
            .OrderBy(e => e.Tick);
        var track = new List<byte>([0x00, 0xFF, 0x51, 3, (byte)(tempo >> 16), (byte)((tempo >> 8) & 0xFF), (byte)(tempo & 0xFF)]);
        long now = 0;
        foreach (var (tick, message) in events)
        {
            if (tick - now > 127) track.Add((byte)(0x80 | ((tick - now) >> 7)));
            track.Add((byte)((tick - now) & 127));
            track.AddRange(message);
            now = tick;
        }

        return File0(480, [.. track, 0x00, 0xFF, 0x2F, 0x00]);
    }

    private static byte[] Played(long[] starts, int ticks)
    {
        var track = new List<byte>();
        long now = 0;
        for (var i = 0; i < starts.Length; i++)
        {
            var end = i + 1 < starts.Length ? starts[i + 1] - 9 : starts[i] + ticks;
            Add(starts[i], 0x90, (byte)(60 + i), 80);
            Add(end, 0x80, (byte)(60 + i), 0);
        }

        return File0(ticks, [.. track, 0x00, 0xFF, 0x2F, 0x00]);

        void Add(long tick, params byte[] message)
        {
            var delta = tick - now;
            now = tick;
            if (delta > 127) track.Add((byte)(0x80 | (delta >> 7)));
            track.Add((byte)(delta & 127));
            track.AddRange(message);
        }
    }
}
