using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Wording;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reharmonising;

/// <summary>
/// What handbooks offer for a place: Aldwell and Schachter, Harmony and Voice Leading (Neapolitan, augmented sixths, mixture, applied
/// chords); Kostka and Payne, Tonal Harmony (the same, mediants, common-tone diminished sevenths); Piston, Harmony (raised fifths); Levine,
/// The Jazz Theory Book (tritone substitutes, the back door).
/// </summary>
public sealed class ReharmoniserTests
{
    [Theory]
    [InlineData("C major", "IV", "V", "ii,V7/V,viio7/V,N6,It6,Fr43,Ger65,iv,iiø7", "the predominants")]
    [InlineData("C major", "ii6", "V", "IV,V7/V,N6,Ger65,iv", "the predominants in the place of ii6")]
    [InlineData("C major", "IV", "Cad64", "ii,Ger65,It6,N6,viio7/V", "before the cadential six-four")]
    [InlineData("C major", "I", "ii", "V7/ii,viio7/ii,bIII7", "ways to ii")]
    [InlineData("C major", "I", "vi", "V7/vi,viio7/vi,bVII7", "ways to vi")]
    [InlineData("C major", "I", "IV", "V7/IV,bV7", "ways to IV")]
    [InlineData("C major", "V", "I", "bII7,bVII7,V+7,viio7", "dominants of I")]
    [InlineData("C major", "IV", "I", "V7,iv,bII7", "ways home from IV")]
    [InlineData("C minor", "iv", "V", "V7/V,viio7/V,N6,It6,Fr43,Ger65,iiø7", "the predominants in minor")]
    [InlineData("C minor", "i", "iv", "V7/iv,viio7/iv", "ways to iv")]
    [InlineData("C minor", "i", "VI", "V7/VI", "ways to VI")]
    public void The_handbooks_chords_are_offered(string key, string chord, string next, string expected, string what)
    {
        Assert.NotEmpty(what);
        // Under a melody that rests, so that no chord is left out for its tones.
        var tonic = key.EndsWith("minor", StringComparison.Ordinal) ? "i" : "I";
        string[] close = next == "Cad64" ? ["V7 G5", $"{tonic} C5"] : [$"{tonic} C5"];
        var offered = SpelledProgression.At(key, 1, [$"{tonic} C5", $"{chord} -",
            $"{next} {(next is "vi" or "IV" or "iv" or "VI" ? "C5" : next == "ii" ? "D5" : next == "I" ? "C5" : "G5")}", .. close]);
        var names = offered.Select(a => Root(a.Numeral)).ToHashSet();
        Every.Item(expected.Split(','), name => Assert.Contains(Root(Numeral.Parse(name)), names));
    }

    [Fact]
    public void A_diminished_seventh_that_keeps_the_tonic_and_mediants_stand_between_two_tonics()
    {
        var offered = SpelledProgression.At("C major", 1, "I C5", "IV -", "I G5", "V7 G5", "I C5");
        Assert.Contains(offered, a => a.Numeral.Kind == NumeralKind.CommonToneDiminished && a.Device == Device.CommonToneDiminished);
        Assert.Contains(offered, a => a.Numeral.ToString() == "III" && a.Device == Device.ChromaticMediant);
        Assert.Contains(offered, a => a.Numeral.ToString() == "bvi" && a.Device == Device.DoubleChromaticMediant);
    }

    [Theory]
    [InlineData("C major", "vi C5", "IV -", "I6 G5", true, "the tonic is common to all three")]
    [InlineData("C major", "I C5", "vi -", "I G5", true, "it leaves the tonic and comes back")]
    [InlineData("C major", "V G5", "I -", "V7 G5", true, "it decorates the dominant")]
    [InlineData("C major", "V G5", "IV -", "I G5", false, "the chord before does not hold the tonic")]
    [InlineData("C minor", "i C5", "iv -", "i G5", false, "the raised second degree would be the third of a minor chord and stay")]
    [InlineData("C major", "I C5", "IV -", "V7/IV C5", false, "what follows leads away from its root")]
    public void A_common_tone_diminished_seventh_stands_between_chords_that_hold_the_tone(string key, string before, string chord,
        string after, bool isOffered, string why)
    {
        var offered = SpelledProgression.At(key, 2, ["V7 G5", before, chord, after, key == "C minor" ? "i C5" : "IV C5"]);
        Assert.True(offered.Any(a => a.Device == Device.CommonToneDiminished) == isOffered, why);
    }

    [Theory]
    [InlineData("G major")]
    [InlineData("Bb major")]
    [InlineData("A major")]
    public void A_common_tone_diminished_seventh_is_read_back_as_one_with_all_its_tones_spelled_to_rise(string key)
    {
        var home = Key.Parse(key);
        string At(int degree) => $"{home.Degree(degree)}5";
        var score = SpelledProgression.Analyse(
            key, $"I {At(1)}", $"V7 {At(2)}", $"vi {At(1)}", $"I6 {At(1)}", $"IV {At(1)}", $"I {At(5)}", $"V {At(5)}", $"V7 {At(4)}",
                $"I {At(3)}", $"ii6 {At(2)}", $"V7 {At(2)}", $"I {At(1)}").Score;
        // By the reader itself, from the notes.
        var analysis = CueAnalysis.Of(score);
        var offered = new Reharmoniser(analysis, Band.Default).At(4, all: true)
            .Single(a => a.Numeral.Kind == NumeralKind.CommonToneDiminished && a.Numeral.Target is null);
        var written = offered.Rewriting.ApplyTo(score);
        // The tonic is kept, the raised second and fourth degrees rise to the third and fifth, the sixth falls (Kostka and Payne).
        Assert.Equal(
            ((int[])[0, 3, 6, 9]).Select(f => home.Tonic + f).Order(), written.Notes.Where(n => n.Onset == offered.Rewriting.Start)
                .Select(n => n.Pitch.Tone).Distinct().Order());
        var found = Rereading.In(CueAnalysis.Of(written), offered);
        Assert.Equal((Device.CommonToneDiminished, null, Resolution.Resolved), (found!.Device!.Value, found.Target, found.Resolution));
        Assert.True(Rereading.Is(found, offered), $"read as {found.Reading.Numeral}");
    }

    [Fact]
    public void A_cue_opens_and_ends_on_its_own_tonic_but_may_end_on_the_major_one_in_minor()
    {
        string[] major = ["I C5", "IV C5", "V7 G5", "I C5"], minor = ["i C5", "iv C5", "V7 G5", "i C5"];
        Assert.Empty(SpelledProgression.At("C major", 0, major));
        Assert.Empty(SpelledProgression.At("C major", 3, major));
        Assert.Empty(SpelledProgression.At("C minor", 0, minor));
        var last = Assert.Single(SpelledProgression.At("C minor", 3, minor));
        Assert.Equal(("I", Device.ModalMixture), (last.Numeral.ToString(), last.Device));
    }

    [Theory]
    [InlineData("C major", "I C5", "V G5", "I C5")]
    [InlineData("C major", "I C5", "I64 C5", "V7 G5", "I C5")]
    [InlineData("C major", "I C5", "IV C5", "I C5")]
    [InlineData("C minor", "i C5", "V G5", "i C5")]
    public void The_tonic_stays_where_a_cue_opens_or_ends_whatever_follows_or_stands_before(string key, params string[] chords)
    {
        Assert.Empty(SpelledProgression.At(key, 0, chords));
        Assert.DoesNotContain(SpelledProgression.At(key, chords.Length - 1, chords), a => a.Numeral.Degree != 1);
    }

    [Fact]
    public void Where_a_cue_opens_on_another_chord_there_is_a_choice() =>
        Assert.Contains(SpelledProgression.At("C major", 0, "IV C5", "V G5", "I C5"), a => a.Numeral.Degree == 2);

    [Theory]
    [InlineData("C5 D5 E5", "(D passes)")]
    [InlineData("C5 D5 C5", "(D is a neighbour note)")]
    public void A_note_that_goes_on_passes_and_one_that_comes_back_is_a_neighbour(string line, string words)
    {
        var notes = line.Split(' ').Select((n, i) => new SoundingNote(new Pitch(Tone.Parse(n[..^1]), n[^1] - '0'), i, i + 1, 0, 1, "1"))
            .ToArray();
        var melody = notes.Select((n, i) => new MelodyNote(n, i > 0 ? notes[i - 1].Pitch : null, i < 2 ? notes[i + 1].Pitch : null))
            .ToArray();
        var fit = MelodyFit.Of(melody, 0, 3, Tones("A C E"), ChordQuality.Minor, null);
        Assert.EndsWith(words, MelodyWords.Of(fit!), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("F5", "Ger65", false)]
    [InlineData("F5", "iv", true)]
    [InlineData("Ab5", "Ger65", true)]
    [InlineData("Ab5", "V7/V", false)]
    [InlineData("D5", "V7/V", true)]
    [InlineData("D5", "N6", false)]
    public void Only_chords_that_hold_the_melody_are_offered(string melody, string numeral, bool isOffered)
    {
        var names = SpelledProgression.At("C major", 1, "I C5", $"IV {melody}", "V G5", "I C5").Select(a => Root(a.Numeral)).ToHashSet();
        Assert.Equal(isOffered, names.Contains(Root(Numeral.Parse(numeral))));
    }

    [Theory]
    [InlineData(-6)]
    [InlineData(-3)]
    [InlineData(1)]
    [InlineData(4)]
    public void The_same_progression_in_another_key_has_the_same_alternatives(int fifths)
    {
        var (home, other) = (new Key(Tone.Of('C'), Mode.Major), new Key(Tone.Of('C') + fifths, Mode.Major));
        string Melody(Key key, int degree) => $"{key.Degree(degree)}5";
        IEnumerable<string> Offered(Key key) => SpelledProgression.At(
            key.ToString(), 1, $"I {Melody(key, 1)}", $"ii6 {Melody(key, 4)}", $"V {Melody(key, 5)}", $"I {Melody(key, 1)}")
                .Select(a => $"{Root(a.Numeral)} {a.Device} {a.Semitones}").Order(StringComparer.Ordinal);
        Assert.Equal(Offered(home), Offered(other));
    }

    [Fact]
    public void An_alternative_says_what_of_the_melody_it_carries_and_where_it_goes()
    {
        var applied = SpelledProgression.At("C major", 1, "I C5", "IV A5", "V G5", "I C5")
            .First(a => Root(a.Numeral) == "V7/V");
        Assert.Contains("the dominant seventh of V, which follows; the melody's A is its fifth.", applied.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("V", "a German sixth whose outer tones open to the octave on G in V, which follows; the melody's Ab is its flat sixth "
        + "degree.")]
    [InlineData("V6", "a German sixth whose flat sixth and sharp fourth degrees lead to the G of V6, which follows; the melody's Ab is "
        + "its flat sixth degree.")]
    public void An_augmented_sixth_opens_to_the_octave_only_where_the_fifth_degree_is_in_the_bass(string next, string expected)
    {
        var sixth = SpelledProgression.At("C minor", 1, "i C5", "iv Ab5", $"{next} G5", "i C5")
            .Single(a => a.Numeral.Quality == ChordQuality.GermanSixth);
        Assert.EndsWith(expected, sixth.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Voices_move_as_little_as_they_can_and_common_tones_are_counted_on_both_sides()
    {
        // C E G to C E A: one voice by two semitones. F A C C to G B B D, by hand: two, two, one and two.
        Tone[] c = Tones("C E G"), a = Tones("A C E"), f = Tones("F A C"), g = Tones("G B D");
        Assert.Equal(2, Smoothness.Semitones(c, a));
        Assert.Equal(7, Smoothness.Semitones(f, g));
        Assert.Equal(0, Smoothness.Semitones(c, c));
        Assert.Equal(2, Smoothness.CommonTones(c, a));
    }

    [Fact]
    public void A_plain_phrase_gains_by_colour_and_a_crowded_one_by_plain_chords()
    {
        string[] plain = ["I C5", "vi C5", "IV F5", "V G5", "I C5", "ii6 D5", "V7 G5", "I C5"];
        var coloured = new Reharmoniser(SpelledProgression.Analyse("C major", plain), new Band(new Fraction(1, 10), new Fraction(3, 10)))
            .At(2, all: true);
        Assert.Contains(coloured, a => a is { Device: not null, Balance: { PhraseBefore.Sign: 0, Verdict: Verdict.Within } });
        var bare = new Reharmoniser(SpelledProgression.Analyse("C major", plain), new Band(Fraction.Zero, Fraction.Zero)).At(2, all: true);
        Assert.Null(bare[0].Device);
        // The same chords, with what the band makes of them.
        Every.Item(coloured.Where(a => a is { Device: not null, Balance.Verdict: Verdict.Within }), a =>
            Assert.True(a.Score > bare.First(b => Root(b.Numeral) == Root(a.Numeral)).Score));
    }

    // Inversions are chosen by the bass line: a chord is its numeral in root position.
    private static string Root(Numeral numeral) => numeral.Kind == NumeralKind.Plain
        ? new Numeral(numeral.Degree, numeral.Quality, 0, numeral.Alteration, numeral.Target).ToString()
        : numeral.ToString();

    private static Tone[] Tones(string names) => [.. names.Split(' ').Select(n => Tone.Parse(n))];
}
