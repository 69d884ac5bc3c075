using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Notation.MusicXml;

/// <summary>
/// The 166 files of the conformance suite (tests/external/conformance), against what each file's own description says; the
/// schema of MusicXML 4.0 decides which of them are valid.
/// </summary>
public sealed class ConformanceTests
{
    [Fact]
    public void Every_valid_file_is_read_and_every_other_one_is_read_or_refused_with_a_place_or_reason()
    {
        var files = Places.Scores(Places.External("conformance")).ToArray();
        Assert.Equal(166, files.Length);
        var refusedThoughValid = new List<string>();
        var invalid = new List<string>();
        foreach (var file in files)
        {
            var document = MusicXmlDocument.Load(file);
            var isValid = MusicXmlSchema.Faults(document.Source).Count == 0;
            if (!isValid) invalid.Add(Path.GetFileName(file));
            try
            {
                SonorityFinder.Find(MusicXmlReader.Read(document));
            }
            catch (ScoreFormatException e) when (!isValid)
            {
                Assert.NotEmpty(e.Message);
            }
            catch (ScoreFormatException e)
            {
                refusedThoughValid.Add($"{Path.GetFileName(file)}: {e.ToDisplayString()}");
            }
        }

        Assert.Empty(refusedThoughValid);
        // Two endings where one may stand; parts that the part list does not name.
        Assert.Equal(["41h-TooManyParts.xml", "45i-Repeats-Nested.xml"], invalid.Order());
    }

    [Fact]
    public void Pitches_run_from_g2_to_c7()
    {
        var notes = Read("01a-Pitches-Pitches.xml").Notes.Where(n => n.Pitch.Tone.Alteration == 0).Select(n => n.Pitch).ToArray();
        Assert.Equal("G2", notes.Min().ToString());
        Assert.Equal("C7", notes.Max().ToString());
    }

    [Fact]
    public void Microtones_are_heard_as_the_semitone_that_they_bend() =>
        Assert.Equal(["Cb", "D", "E", "F#"], Read("01d-Pitches-Microtones.xml").Notes.Take(4).Select(n => n.Pitch.Tone.ToString()));

    [Fact]
    public void Multi_measure_rests_are_measures_of_their_own_3_and_15_and_1_and_12_and_3() =>
        Assert.Equal(3 + 15 + 1 + 12 + 3, Read("02c-Rests-MultiMeasureRests.xml").Measures.Count);

    [Fact]
    public void A_backup_may_jump_to_the_second_beat()
    {
        var score = Read("03b-Rhythm-Backup.xml");
        Assert.Equal([0, 1], Onsets(score, "1"));
        Assert.Equal([1, 2], Onsets(score, "2"));
    }

    [Fact]
    public void Divisions_may_change_inside_a_measure()
    {
        var score = Read("03c-Rhythm-DivisionChange.xml");
        Assert.Equal([4, 4], score.Measures.Select(m => m.Length));
    }

    [Fact]
    public void Without_divisions_a_whole_note_is_still_a_whole_note() =>
        Assert.Equal(4, Assert.Single(Read("03e-Rhythm-No-Divisions.xml").Notes).Duration);

    [Fact]
    public void Forwards_put_a_quarter_on_the_second_beat_and_a_sixteenth_on_the_fourth()
    {
        var notes = Read("03f-Rhythm-Forward.xml").Notes;
        Assert.Equal((1, 1), (notes[0].Onset, notes[0].Duration));
        Assert.Equal((3, new Fraction(1, 4)), (notes[1].Onset, notes[1].Duration));
    }

    [Fact]
    public void Time_signatures_are_2_2_4_4_2_2_3_2_2_4_3_4_4_4_5_4_3_8_6_8_12_8() =>
        Assert.Equal(
            ["2/2", "4/4", "2/2", "3/2", "2/4", "3/4", "4/4", "5/4", "3/8", "6/8", "12/8"],
            Read("11a-TimeSignatures.xml").Measures.Select(m => $"{m.Time.Beats}/{m.Time.BeatType}"));

    [Fact]
    public void Complex_time_signatures_add_up_and_keep_their_groups()
    {
        Assert.Equal(["3+2", "5+3+1"], Read("11c-TimeSignatures-Complex.xml").Measures.Select(m => m.Time.Grouping));
        Assert.Equal(["3+2+6", "20+1"], Read("11d-TimeSignatures-ComplexMultiple.xml").Measures.Select(m => m.Time.Grouping));
        Assert.Equal("3+2+6", Assert.Single(Read("11e-TimeSignatures-ComplexMixed.xml").Measures).Time.Grouping);
    }

    [Fact]
    public void Senza_misura_measures_are_as_long_as_what_they_hold()
    {
        var measures = Read("11h-TimeSignatures-SenzaMisura.xml").Measures;
        Every.Item(measures, m => Assert.True(m.Time.IsFree));
        Assert.Equal([new Fraction(3, 2), 3, 2, new Fraction(5, 2)], measures.Select(m => m.Length));
    }

    [Fact]
    public void An_interchangeable_metre_counts_as_its_first() =>
        Assert.Equal(["3/4", "2/2", "4/4"], Read("11i-TimeSignatures-Alternate.xml").Measures.Take(3)
            .Select(m => $"{m.Time.Beats}/{m.Time.BeatType}"));

    [Fact]
    public void Key_signatures_run_from_11_flats_to_11_sharps_each_in_major_and_minor()
    {
        var measures = Read("13a-KeySignatures.xml").Measures;
        Assert.Equal(Enumerable.Range(-11, 23).SelectMany(f => new[] { (f, (Mode?)Mode.Major), (f, Mode.Minor) }),
            measures.Select(m => (m.Signature, m.SignatureMode)));
    }

    [Fact]
    public void Church_modes_have_two_sharps() =>
        Assert.Equal([2, 2, 2], Read("13b-KeySignatures-ChurchModes.xml").Measures.Select(m => m.Signature));

    [Theory]
    [InlineData("major", Mode.Major)]
    [InlineData("minor", Mode.Minor)]
    [InlineData("ionian", Mode.Major)]
    [InlineData("dorian", null)]
    [InlineData("phrygian", null)]
    [InlineData("lydian", null)]
    [InlineData("mixolydian", null)]
    [InlineData("aeolian", Mode.Minor)]
    [InlineData("locrian", null)]
    [InlineData("none", null)]
    public void Of_the_modes_of_the_file_only_ionian_and_aeolian_are_a_mode_of_ours(string name, Mode? mode)
    {
        var text = File.ReadAllText(Places.External("conformance", "13b-KeySignatures-ChurchModes.xml"));
        Assert.Contains($"<mode>{name}</mode>", text, StringComparison.Ordinal);
        var first = text.Replace("<mode>major</mode>", $"<mode>{name}</mode>", StringComparison.Ordinal);
        Assert.Equal(mode, ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes(first)).Score.Measures[0].SignatureMode);
    }

    [Fact]
    public void A_non_traditional_signature_of_f_sharp_a_flat_b_flat_is_nearest_to_one_flat() =>
        Assert.Equal(-1, Read("13c-KeySignatures-NonTraditional.xml").Measures[0].Signature);

    [Fact]
    public void A_hidden_key_change_to_a_flat_major_counts()
    {
        var score = Read("13f-KeySignatures-Visible.xml");
        Assert.Equal(-4, score.Measures[1].Signature);
        Assert.Equal(["Db", "Eb", "Ab", "Bb"], score.Notes.Where(n => n.Onset >= score.Measures[1].Start)
            .Select(n => n.Pitch.Tone.ToString()));
    }

    [Theory]
    [InlineData("21a-Chord-Basic.xml", 2)]
    [InlineData("21f-Chord-ElementInBetween.xml", 3)]
    [InlineData("21h-Chord-Accidentals.xml", 3)]
    [InlineData("21i-Chord-DifferentVoices.xml", 4)]
    public void Notes_of_a_chord_sound_together_whatever_stands_between(string file, int count)
    {
        var vertical = Assert.Single(SonorityFinder.Find(Read(file)));
        Assert.Equal(count, vertical.Notes.Count);
    }

    [Fact]
    public void The_four_notes_in_two_voices_keep_their_voices() =>
        Assert.Equal(["X", "X", "Y", "Y"], Read("21i-Chord-DifferentVoices.xml").Notes.Select(n => n.Voice).Order());

    [Fact]
    public void Chords_after_a_pickup_are_found_and_the_pickup_is_short()
    {
        var score = Read("21e-Chords-PickupMeasures.xml");
        Assert.True(score.Measures[0].Length < score.Measures[0].Time.Length);
        Assert.Equal([1, 3, 2], SonorityFinder.Find(score).Select(v => v.Notes.Count));
    }

    [Fact]
    public void Tuplets_last_as_long_as_they_should()
    {
        Every.Item(Read("23a-Tuplets.xml").Measures, m => Assert.Equal(m.Time.Length, m.Length));
        Every.Item(Read("23d-Tuplets-Nested.xml").Measures, m => Assert.Equal(m.Time.Length, m.Length));
    }

    [Fact]
    public void Grace_notes_are_kept_and_take_no_time()
    {
        var score = Read("24a-GraceNotes.xml");
        Every.Item(score.Measures, m => Assert.Equal(4, m.Length));
        Assert.Contains(score.Notes, n => n.Marks.HasFlag(NoteMarks.Grace));
        Assert.DoesNotContain(SonorityFinder.JoinTies(score.Notes), n => n.End == n.Onset);
    }

    [Fact]
    public void A_tie_of_two_whole_notes_is_one_sound() =>
        Assert.Equal(8, Assert.Single(SonorityFinder.JoinTies(Read("33b-Spanners-Tie.xml").Notes)).End);

    [Fact]
    public void Ties_without_an_end_still_hold_to_the_next_note_of_their_pitch() =>
        Assert.Equal(0, SonorityFinder.JoinTies(Read("33i-Ties-NotEnded.xml").Notes)[0].Onset);

    [Fact]
    public void A_tie_may_cross_voices_and_a_tie_that_changes_the_spelling_joins_nothing()
    {
        var sounds = SonorityFinder.JoinTies(Read("33k-Tie-Types.xml").Notes);
        var g = sounds.First(n => n.Pitch.ToString() == "G4");
        Assert.Equal((0, new Fraction(3, 2)), (g.Onset, g.End));
        Assert.Contains(sounds, n => n.Pitch.ToString() == "A#4" && n.End == 4);
        Assert.Contains(sounds, n => n.Pitch.ToString() == "Bb4" && n.Onset == 4);
    }

    [Theory]
    [InlineData("33da-Spanners-OctaveShifts-before.xml")]
    [InlineData("33db-Spanners-OctaveShifts-after.xml")]
    public void An_octave_shift_is_a_way_of_printing_and_moves_no_pitch(string file)
    {
        var document = MusicXmlDocument.Load(Places.External("conformance", file));
        var written = document.Xml.Descendants("pitch").Select(p => (string?)p.Element("step") + (string?)p.Element("octave"));
        Assert.Equal(written, MusicXmlReader.Read(document).Notes.Select(n => $"{n.Pitch.Tone.Letter}{n.Pitch.Octave}"));
    }

    [Theory]
    [InlineData("41a-MultiParts-Partorder.xml", 4)]
    [InlineData("41b-MultiParts-MoreThan10.xml", 20)]
    [InlineData("41c-StaffGroups.xml", 25)]
    public void Parts_stand_in_the_order_of_the_part_list(string file, int count)
    {
        var document = MusicXmlDocument.Load(Places.External("conformance", file));
        var listed = document.Xml.Descendants("score-part").Select(p => (string)p.Attribute("id")!);
        var parts = MusicXmlReader.Read(document).Parts;
        Assert.Equal(count, parts.Count);
        Assert.Equal(listed, parts.Select(p => p.Id));
    }

    [Fact]
    public void Parts_that_the_list_leaves_out_are_read_too()
    {
        var document = MusicXmlDocument.Load(Places.External("conformance", "41h-TooManyParts.xml"));
        Assert.Equal(document.Xml.Descendants("score-part").Count() + 2, MusicXmlReader.Read(document).Parts.Count);
    }

    [Fact]
    public void A_part_name_over_several_lines_is_one_line() =>
        Assert.DoesNotContain(Read("41e-StaffGroups-InstrumentNames-Linebroken.xml").Parts, p =>
            p.Name.Contains('\n', StringComparison.Ordinal));

    [Theory]
    [InlineData("43b-MultiStaff-DifferentKeys.xml")]
    [InlineData("43c-MultiStaff-DifferentKeysAfterBackup.xml")]
    [InlineData("43j-MultiStaff-TimeSignatureAfterBackup.xml")]
    public void Keys_of_two_staves_are_read_wherever_they_are_stated(string file)
    {
        var score = Read(file);
        Assert.Equal(2, score.Measures[0].Signature);
        Assert.Equal(2, score.Parts[0].Staves);
    }

    [Fact]
    public void A_time_signature_after_a_backup_holds_from_the_start() =>
        Assert.Equal(3, Read("43j-MultiStaff-TimeSignatureAfterBackup.xml").Measures[0].Time.Length);

    [Fact]
    public void A_pickup_of_three_eighths_and_a_measure_written_as_two_keep_the_beats()
    {
        var measures = Read("46d-PickupMeasure-ImplicitMeasures.xml").Measures;
        Assert.Equal(["0", "1", "X1", "2"], measures.Select(m => m.Number));
        Assert.Equal([new Fraction(3, 2), 2, 2, 3], measures.Select(m => m.Length));
        Assert.Equal([new Fraction(7, 2), 1, 3, 1], measures.Select(m => m.BeatAt(m.Start)));
    }

    [Fact]
    public void A_second_voice_may_start_on_the_second_beat()
    {
        var score = Read("46e-PickupMeasure-SecondVoiceStartsLater.xml");
        Assert.Equal(1, score.Measures[0].Length);
        Assert.Equal([2, 5], Onsets(score, "2"));
    }

    [Fact]
    public void Incomplete_and_overfull_measures_are_as_long_as_what_they_hold()
    {
        Assert.Equal([2, 4, 2, 4], Read("46f-IncompleteMeasures.xml").Measures.Select(m => m.Length));
        Assert.Equal([5, 4, 5, 4], Read("46i-OverfullMeasures.xml").Measures.Select(m => m.Length));
    }

    [Fact]
    public void An_empty_work_title_leaves_the_movement_title()
    {
        var document = MusicXmlDocument.Load(Places.External("conformance", "51d-EmptyTitle.xml"));
        Assert.Equal(document.Xml.Root!.Element("movement-title")!.Value.Trim(), MusicXmlReader.Read(document).Title);
    }

    [Fact]
    public void Lyrics_with_elisions_are_one_text_a_note() =>
        Assert.Equal(["a", "b c", "d‿e", "f‿g‿h"], Lyrics("61j-Lyrics-Elisions.xml").Select(t => t.Text));

    [Fact]
    public void Lyric_lines_keep_number_and_name()
    {
        var lines = Lyrics("61g-Lyrics-NameNumber.xml").Select(t => (t.Line, t.LineName, t.Text)).ToArray();
        Assert.Equal(
            [("1", "Verse", "Verse1A"), ("1", "Chorus", "Chorus1A"), ("1", "Chorus", "AnotherChorus1A"), ("2", "Chorus", "Chorus2A"),
                ("1", "", "1B"), ("2", "", "2B"),
                ("1", "Verse", "Verse1C"), ("2", "Chorus", "Chorus2C"), ("1", "Chorus", "Chorus1D"), ("", "Verse", "VerseE"),
                    ("", "", "NoneF")],
            lines);
    }

    [Fact]
    public void Verses_are_numbered_1_2_and_iij() =>
        Assert.Equal(["1", "2", "iij"], Lyrics("61b-MultipleLyrics.xml").Take(3).Select(t => t.Line));

    [Fact]
    public void Every_kind_of_chord_symbol_but_other_and_none_has_tones()
    {
        var symbols = Read("71f-AllChordTypes.xml").ChordSymbols;
        Assert.True(symbols.Count > 25);
        Every.Item(symbols.Where(s => s.Kind is not ("other" or "none")), s => Assert.NotEmpty(s.Tones));
    }

    [Fact]
    public void Several_chord_symbols_before_one_note_share_its_time() =>
        Assert.Equal([0, 1, 2, 3], Read("71g-MultipleChordnames.xml").ChordSymbols.Select(s => s.Onset));

    [Fact]
    public void Trumpet_horn_and_piano_all_sound_the_scale_of_c_major()
    {
        var score = Read("72a-TransposingInstruments.xml");
        Every.Item(score.Measures, m => Assert.Equal(0, m.Signature));
        foreach (var part in score.Parts)
            Assert.Equal(["C", "D", "E", "F", "G", "A", "B", "C"], score.Notes.Where(n => n.Part == part.Index)
                .Select(n => n.Pitch.Tone.ToString()));
    }

    [Fact]
    public void Every_transposition_sounds_c5() =>
        Assert.Equal(Enumerable.Repeat("C5", 11), Read("72b-TransposingInstruments-Full.xml").Notes.Select(n => n.Pitch.ToString()));

    [Fact]
    public void A_clarinet_in_e_flat_that_changes_to_b_flat_stays_in_b_flat_major()
    {
        var score = Read("72c-TransposingInstruments-Change.xml");
        Every.Item(score.Measures, m => Assert.Equal(-2, m.Signature));
        Assert.Equal(["Eb4", "Bb3", "Bb3"], score.Notes.Select(n => n.Pitch.ToString()));
    }

    [Fact]
    public void Of_three_percussion_staves_the_timpani_have_pitches()
    {
        var score = Read("73a-Percussion.xml");
        Assert.Equal([false, true, true], score.Parts.Select(p => p.IsPercussion));
        Every.Item(score.Notes, n => Assert.Equal(0, n.Part));
    }

    [Fact]
    public void Figured_bass_keeps_altered_and_slashed_figures_from_the_top_down() =>
        Assert.Equal(["3", "#1 b3 n5", "6", "5+ b127+"], Read("74a-FiguredBass.xml").Texts.Where(t => t.Kind == ScoreTextKind.FiguredBass)
            .Select(t => t.Text));

    [Fact]
    public void A_package_with_a_pdf_beside_the_score_is_read()
    {
        var document = MusicXmlDocument.Load(Places.External("conformance", "90a-Compressed-MusicXML.mxl"));
        Assert.True(document.IsCompressed);
        Assert.Equal("20a-Compressed-MusicXML.xml", document.ScorePath);
        Assert.NotEmpty(MusicXmlReader.Read(document).Notes);
    }

    private static Score Read(string file) => MusicXmlReader.Read(MusicXmlDocument.Load(Places.External("conformance", file)));

    private static IEnumerable<ScoreText> Lyrics(string file) => Read(file).Texts.Where(t => t.Kind == ScoreTextKind.Lyric);

    private static IEnumerable<Fraction> Onsets(Score score, string voice) => score.Notes.Where(n => n.Voice == voice).Select(n => n.Onset);
}
