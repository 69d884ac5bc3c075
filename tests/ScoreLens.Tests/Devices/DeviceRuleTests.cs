using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Devices;

/// <summary>
/// Single cases, most of them from the table of devices and the list of ambiguous cases in docs/devices.md, written
/// out pitch by pitch.
/// </summary>
public sealed class DeviceRuleTests
{
    private const string Tonic = "I: C3 G3 C4 E4", Dominant = "V: G2 G3 B3 D4", Seventh = "V7: G2 F3 B3 D4";

    [Fact]
    public void The_sentence_names_the_raised_fourth_degree_and_where_it_goes()
    {
        var chord = SpelledChords.Tag("C major", Tonic, "V7/V: D3 F#3 C4 D4", Dominant, Tonic)[1];
        Assert.Equal("F# is the raised fourth degree, the leading tone of V; it rises to G as the chord moves to V.",
            ReasonText.Of(chord.Reason));
        Assert.Equal(Device.SecondaryDominant, chord.Device);
        Assert.Equal("V", chord.Target);
        Assert.Equal(HarmonicFunction.Predominant, chord.Function);
        Assert.Equal(Resolution.Resolved, chord.Resolution);
    }

    [Fact]
    public void A_delay_says_what_stands_between()
    {
        var chord = SpelledChords.Tag("C major", Tonic, "V7/V: D3 F#3 C4 D4", "ii6: F3 F3 A3 D4", Seventh, Tonic)[1];
        Assert.Equal(Resolution.Delayed, chord.Resolution);
        Assert.Contains("after ii6", ReasonText.Of(chord.Reason));
    }

    [Fact]
    public void A_dominant_of_ii_that_goes_back_to_the_tonic_is_unresolved()
    {
        var chord = SpelledChords.Tag("C major", Tonic, "V7/ii: A2 C#4 E4 G4", Tonic)[1];
        Assert.Equal((Device.SecondaryDominant, Resolution.Unresolved), (chord.Device!.Value, chord.Resolution));
    }

    [Theory]
    [InlineData("Ger65: Ab2 Eb4 F#4 C5", "Cad64: G2 E4 G4 C5", Device.AugmentedSixth, Device.TritoneSubstitute)]
    [InlineData("bVI7: Ab2 Eb4 Gb4 C5", "Cad64: G2 E4 G4 C5", Device.AugmentedSixth, Device.TritoneSubstitute)]
    [InlineData("bVI7: Ab2 Eb4 F#4 C5", "V: G2 D4 G4 B4", Device.AugmentedSixth, Device.TritoneSubstitute)]
    [InlineData("bVI7: Ab2 Eb4 Gb4 C5", "V7: G2 D4 F4 B4", Device.TritoneSubstitute, Device.AugmentedSixth)]
    [InlineData("Ger65: Ab2 Eb4 Gb4 C5", "V7: G2 D4 F4 B4", Device.TritoneSubstitute, Device.AugmentedSixth)]
    [InlineData("Ger65: Ab2 Eb4 F#4 C5", "bII: Db3 Db4 F4 Ab4", Device.SecondaryDominant, Device.AugmentedSixth)]
    [InlineData("bII7: Db3 F4 Ab4 Cb5", "I: C3 E4 G4 C5", Device.TritoneSubstitute, null)]
    [InlineData("bII7: Db3 F4 Ab4 B4", "I: C3 E4 G4 C5", Device.AugmentedSixth, Device.TritoneSubstitute)]
    [InlineData("V65/V: F#3 C4 D4 A4", "bII7: Db3 F4 Ab4 Cb5", Device.SecondaryDominant, null)]
    [InlineData("bVI: Ab2 C4 Eb4 Ab4", "I: C3 C4 E4 G4", Device.ModalMixture, Device.ChromaticMediant)]
    [InlineData("bVII7: Bb2 D4 F4 Ab4", "I: C3 C4 E4 G4", Device.ModalMixture, null)]
    [InlineData("bVII7: Bb2 D4 F4 Ab4", "bIII: Eb3 Eb4 G4 Bb4", Device.SecondaryDominant, Device.ModalMixture)]
    [InlineData("III: E3 B3 E4 G#4", "I: C3 C4 E4 G4", Device.ChromaticMediant, Device.SecondaryDominant)]
    [InlineData("III: E3 B3 E4 G#4", "IV: F3 C4 F4 A4", Device.SecondaryDominant, Device.ChromaticMediant)]
    [InlineData("V7: G2 F3 B3 Db4", "I: C3 E3 C4 E4", Device.AlteredDominant, null)]
    [InlineData("V7: G2 F3 Db4 G4", "I: C3 E3 C4 E4", Device.AlteredDominant, null)]
    [InlineData("viiø7/V: F#3 C4 E4 A4", "V7/iii: B2 D#4 F#4 A4", Device.OtherChromatic, null)]
    [InlineData("viiø7/V: F#3 C4 E4 A4", "V: G2 D4 G4 B4", Device.SecondaryLeadingTone, null)]
    [InlineData("V/vi: E3 B3 E4 G#4", "V: G2 D4 G4 B4", Device.ChromaticMediant, Device.SecondaryDominant)]
    [InlineData("viio7/V: F#3 C4 Eb4 A4", "Cad64: G2 C4 E4 G4", Device.SecondaryLeadingTone, null)]
    [InlineData("viio7/V: F#3 C4 Eb4 A4", "I6: E3 C4 E4 G4", Device.CommonToneDiminished, Device.SecondaryLeadingTone)]
    public void Ambiguous_chords_are_named_by_spelling_then_by_what_follows(string chord, string next, Device device, Device? second)
    {
        var found = SpelledChords.Tag("C major", Tonic, chord, next, Seventh, Tonic)[1];
        Assert.Equal(device, found.Device);
        if (second is { } also) Assert.Contains(also, found.Also);
    }

    [Theory]
    [InlineData("V7: Eb2 Db4 G4 Bb4", Device.TritoneSubstitute)]
    [InlineData("V: Eb2 Eb4 G4 Bb4", Device.AugmentedSixth)]
    [InlineData("Cad64: Eb2 C4 Eb4 Ab4", Device.AugmentedSixth)]
    public void Where_the_seventh_would_need_a_double_flat_a_German_sixth_is_one_that_opens_to_the_octave(string next, Device device) =>
        Assert.Equal(device, SpelledChords.Tag("Ab major", "I: Ab2 Eb4 Ab4 C5", "Ger65: Fb2 Cb4 D4 Ab4", next, "I: Ab2 Eb4 Ab4 C5")[1]
            .Device);

    [Fact]
    public void A_substitute_without_its_fifth_is_still_one() =>
        Assert.Equal(Device.TritoneSubstitute, SpelledChords.Tag("Bb major", "ii7: C3 Eb4 Bb4", "It6/IV: Cb3 Eb4 A4", "I: Bb2 D4 Bb4")[1]
            .Device);

    [Fact]
    public void A_lowered_sixth_degree_written_as_a_raised_fifth_is_borrowed() =>
        Assert.Equal(Device.ModalMixture, SpelledChords.Tag("Db major", "I: Db3 Ab3 Db4 F4", "#V: A2 E4 A4 C#5", "V7: Ab2 Eb4 Gb4 C5",
            "I: Db3 Ab3 Db4 F4")[1].Device);

    [Fact]
    public void A_mediant_is_heard_from_the_chord_before_it() =>
        Assert.Equal(Device.DoubleChromaticMediant, SpelledChords.Tag("F minor", "i: F3 C4 F4 Ab4", "#III: A2 C#4 E4 A4", "I: F3 C4 F4 A4",
            "i: F3 C4 F4 Ab4")[1].Device);

    [Fact]
    public void A_major_triad_between_two_tonics_is_a_mediant_though_its_target_comes_later() =>
        Assert.Equal(Device.ChromaticMediant, SpelledChords.Tag("C major", Tonic, "VI: A2 A3 C#4 E4", Tonic, "ii65: F2 C4 D4 A4", Seventh,
            Tonic)[1].Device);

    [Fact]
    public void A_diminished_seventh_is_what_its_spelling_and_the_next_chord_say() =>
        Assert.Equal(Device.SecondaryLeadingTone, SpelledChords.Tag("C minor", "i: C3 G3 C4 Eb4", "viio65: D3 F3 Ab3 Cb4",
            "III: Eb3 G3 Bb3 Eb4", "i: C3 G3 C4 Eb4")[1].Device);

    [Theory]
    [InlineData("iio6: F3 G#3 D4 F4", Device.CommonToneDiminished)]
    [InlineData("iio6: F3 Ab3 D4 F4", Device.ModalMixture)]
    public void A_diminished_triad_that_holds_the_root_of_IV_is_borrowed_unless_the_raised_degree_is_written(string chord, Device device) =>
        Assert.Equal(device, SpelledChords.Tag("C major", Tonic, "IV: F3 A3 C4 F4", chord, "IV: F3 A3 C4 F4", Tonic)[2].Device);

    [Fact]
    public void Of_a_third_and_the_one_a_semitone_off_the_one_that_sounds_twice_as_long_is_the_chords()
    {
        // The C of the tonic hangs over into bvi for a third of its time, and the reading says bVI; in equal shares the reading stands.
        Assert.Equal(Device.DoubleChromaticMediant, Found(over: 1, then: 2));
        Assert.Equal(Device.ModalMixture, Found(over: 2, then: 2));

        static Device? Found(int over, int then)
        {
            var (home, length) = (Key.Parse("C major"), over + then);
            Note Of(char letter, int alteration, int octave, Fraction onset, Fraction duration, string voice) =>
                new(new Pitch(Tone.Of(letter, alteration), octave), onset, duration, 0, 1, voice, NoteMarks.None);
            Note[] notes =
            [
                Of('C', 0, 3, 0, 4, "4"), Of('E', 0, 4, 0, 4, "3"), Of('G', 0, 4, 0, 4, "2"), Of('C', 0, 5, 0, 4, "1"),
                Of('A', -1, 2, 4, length, "4"), Of('E', -1, 4, 4, length, "3"), Of('A', -1, 4, 4, length, "2"),
                    Of('C', 0, 5, 4, over, "1"), Of('C', -1, 5, 4 + over, then, "1"),
                Of('C', 0, 3, 4 + length, 4, "4"), Of('E', 0, 4, 4 + length, 4, "3"), Of('G', 0, 4, 4 + length, 4, "2"),
                    Of('C', 0, 5, 4 + length, 4, "1"),
            ];
            var score = new Score("Study", [new Part(0, "P1", "Piano", 1)], [new Measure(0, "1", 0, 8 + length, TimeSignature.Common, 0)],
                notes, [], [], []);
            ChordReading[] chords =
            [
                new(0, 4, home, Numeral.Parse("I"), 1, []), new(4, length, home, Numeral.Parse("bVI"), 1, []),
                    new(4 + length, 4, home, Numeral.Parse("I"), 1, []),
            ];
            return SpelledChords.Find(home, chords, score)[1].Device;
        }
    }

    [Theory]
    [InlineData("IV: F3 A3 C4 F4", "V6: B2 G3 D4 G4", null)]
    [InlineData("IV: F3 C4 F4 A4", "i6: Eb3 C4 G4 G4", Device.ModalMixture)]
    public void The_major_subdominant_in_minor_is_mixture_only_where_its_raised_sixth_falls(string chord, string next, Device? device) =>
        Assert.Equal(device, SpelledChords.Tag("C minor", "i: C3 G3 C4 Eb4", chord, next, "i: C3 G3 C4 Eb4")[1].Device);

    [Fact]
    public void A_Picardy_third_at_a_close_is_mixture()
    {
        var chord = SpelledChords.Tag("C minor", "i: C3 G3 C4 Eb4", Seventh, Tonic)[2];
        Assert.Equal((Device.ModalMixture, Resolution.Resolved), (chord.Device!.Value, chord.Resolution));
        Assert.Contains("Picardy", ReasonText.Of(chord.Reason));
    }

    [Fact]
    public void Each_dominant_followed_by_its_tritone_substitute_is_told_from_it()
    {
        // D7–Ab7–G7–Db7–C7–Gb7–F: dominants and their tritone substitutes in turn, by semitone to F (common practice in jazz).
        var chords = SpelledChords.Tag(
            "C major",
            "V7/V: D3 F#4 A4 C5", "bVI7: Ab2 Gb4 Ab4 C5", "V7: G2 F4 G4 B4", "bII7: Db3 F4 Ab4 Cb5", "V7/IV: C3 E4 G4 Bb4",
                "bV7: Gb2 E4 Gb4 Bb4",
            "IV: F2 F4 A4 C5");
        Device?[] expected =
            [Device.SecondaryDominant, Device.TritoneSubstitute, null, Device.TritoneSubstitute, Device.SecondaryDominant,
                Device.TritoneSubstitute, null];
        Assert.Equal(expected, chords.Select(c => c.Device));
    }

    [Fact]
    public void The_cadential_six_four_is_a_dominant()
    {
        var chord = SpelledChords.Tag("C major", Tonic, "Cad64: G2 E4 G4 C5", Seventh, Tonic)[1];
        Assert.Equal((null, HarmonicFunction.Dominant), (chord.Device, chord.Function));
    }

    [Fact]
    public void A_chord_that_plainly_sounds_is_judged_instead_of_a_numeral_that_names_another()
    {
        // The reading has no word for Db7 and says IV.
        var chord = SpelledChords.Tag("C major", Tonic, "IV: Db3 F4 Ab4 Cb5", Tonic)[1];
        Assert.Equal(Device.TritoneSubstitute, chord.Device);
    }

    [Theory]
    [InlineData("bVI: Ab2 Cb4 Eb4 Ab4", Tonic, Device.DoubleChromaticMediant)]
    [InlineData("ii65: F2 D4 Ab4 C5", Seventh, Device.ModalMixture)]
    [InlineData("viio6/V: A2 C4 F#4 C5", Tonic, Device.CommonToneDiminished)]
    [InlineData("iii7: E3 G3 Bb3 D4", "V7/ii: A2 G3 C#4 E4", Device.OtherChromatic)]
    public void A_third_or_fifth_that_sounds_a_semitone_off_the_numeral_is_heard(string chord, string next, Device device) =>
        Assert.Equal(device, SpelledChords.Tag("C major", Tonic, chord, next, Tonic)[1].Device);

    [Theory]
    [InlineData("viio42/iii: C3 A3 D#4 F#4", "I6: E3 G3 C4 G4", null)]
    [InlineData("viio7/V: F#3 A3 C4 D#4", Tonic, null)]
    [InlineData("viio43/ii: G2 A#3 C#4 E4", Seventh, "V")]
    public void A_diminished_seventh_that_decorates_points_at_what_it_decorates_and_not_at_what_its_numeral_is_applied_to(string chord,
        string next, string? target)
    {
        var found = SpelledChords.Tag("C major", next == Seventh ? Dominant : Tonic, chord, next, Tonic)[1];
        Assert.Equal((Device.CommonToneDiminished, target), (found.Device!.Value, found.Target));
    }

    [Fact]
    public void One_chord_alone_in_another_key_is_judged_in_the_key_around_it()
    {
        var (home, other) = (Key.Parse("A minor"), Key.Parse("F# minor"));
        var (tonic, dominant) = (Numeral.Parse("i"), Numeral.Parse("V"));
        ChordReading[] chords = [new(0, 2, home, tonic, 1, []), new(2, 2, other, dominant, 1, []), new(4, 2, home, tonic, 1, [])];
        var found = SpelledChords.Find(home, chords, new Score("Study", [], [], [], [], [], []));
        // C# major between two A minor triads.
        Assert.Equal((Device.DoubleChromaticMediant, home, "#III"),
            (found[1].Device!.Value, found[1].Reading.Key, found[1].Reading.Numeral!.ToString()));
        Assert.Null(found[0].Device);
    }
}
