using ScoreLens.Notation.Midi.Spelling;
using Xunit;

namespace ScoreLens.Tests.Notation.Midi;

/// <summary>
/// Spelling: scales by their keys, and chromatic tones as harmony books name them: a tone that rises by a semitone is a raised one, one
/// that
/// falls is a lowered one; a chord is spelled in thirds (Aldwell and Schachter, Harmony and Voice Leading, on chromatic tones; from
/// memory).
/// </summary>
public sealed class PitchSpellerTests
{
    [Theory]
    [InlineData("C major scale with its leading tone", "60 62 64 65 67 69 71 72", "C D E F G A B C")]
    [InlineData("A minor with a raised seventh", "57 60 64 68 69 68 69 64 60 57", "A C E G# A G# A E C A")]
    [InlineData("D flat major", "61 63 65 66 68 70 72 73 68 65 61", "Db Eb F Gb Ab Bb C Db Ab F Db")]
    [InlineData("E major", "64 66 68 69 71 73 75 76 71 68 64", "E F# G# A B C# D# E B G# E")]
    public void Pitches_are_spelled_by_their_key(string name, string keys, string expected) => Same(name, expected, Line(keys, null));

    [Theory]
    [InlineData(-6, "Gb")]
    [InlineData(6, "F#")]
    public void The_key_signature_decides_between_six_flats_and_six_sharps(int signature, string tonic) =>
        Assert.Equal(tonic, PitchSpeller.Spell(Line("66 68 70 71 73 75 77 78", signature))[0].ToString());

    [Theory]
    [InlineData("a lower neighbour is raised", "67 64 60 62 61 62 64 65 62 59 60", "G E C D C# D E F D B C")]
    [InlineData("a chromatic line up is in sharps", "60 64 67 72 65 66 67 68 69 71 72 67 64 60", "C E G C F F# G G# A B C G E C")]
    [InlineData("a bare line up by semitones", "60 67 64 65 66 67", "C G E F F# G")]
    [InlineData("a bare line down by semitones", "67 66 65 64 60", "G F# F E C")]
    [InlineData("a bare passing tone", "60 62 63 64 67 60", "C D D# E G C")]
    public void A_chromatic_tone_is_named_by_where_it_goes(string name, string keys, string expected) =>
        Same(name, expected, Line(keys, 0));

    [Theory]
    [InlineData("a dominant of the second degree", 0, "60 64 67, 57 61 64 67, 62 65 69, 55 59 62 65, 60 64 67",
        "C E G A C# E G D F A G B D F C E G")]
    [InlineData("a Neapolitan in C minor", -3, "60 63 67, 65 68 73, 62 65 67 71, 60 63 67", "C Eb G F Ab Db D F G B C Eb G")]
    [InlineData("a diminished seventh in A minor", 0, "57 60 64, 56 59 62 65, 57 60 64", "A C E G# B D F A C E")]
    [InlineData("an augmented sixth in A minor", 0, "57 60 64, 53 57 60 63, 52 56 59 64, 57 60 64", "A C E F A C D# E G# B E A C E")]
    public void A_chord_is_spelled_in_thirds_of_its_key(string name, int signature, string chords, string expected) => Same(name, expected,
    [
        .. chords.Split(", ").SelectMany((c, i) => c.Split(' ').Select(k =>
        new UnspelledNote(2 * i, (2 * i) + 2, 0, int.Parse(k), signature))),
    ]);

    [Fact]
    public void A_passage_keeps_to_the_side_of_the_circle_of_fifths_from_which_it_comes()
    {
        // From G flat major into its subdominant, C flat: all flats, though B major has fewer signs.
        var notes = Line("66 70 73 78 77 75 73 71 70 68 66 71 75 78 83 82 80 78 76 75 73 71 75 78 71", -6);
        Assert.DoesNotContain(PitchSpeller.Spell(notes), t => t.Alteration > 0);
    }

    [Fact]
    public void Every_name_sounds_as_its_key()
    {
        UnspelledNote[] notes =
        [
            .. Enumerable.Range(0, 128).SelectMany(k => new[] { -7, 0, 7 }.Select(s => new UnspelledNote(k, k + 1, 0, k, s))).OrderBy(n =>
            n.Onset),
        ];
        Every.Item(notes.Zip(PitchSpeller.Spell(notes)), n => Assert.Equal(n.First.Key % 12, n.Second.PitchClass));
    }

    [Fact]
    public void The_tables_come_back_as_they_were_written()
    {
        var written = SpellingTables.Default.Write();
        Assert.Equal(written, SpellingTables.Read(new StringReader(written)).Write());
        Assert.Throws<InvalidDataException>(() => SpellingTables.Read(new StringReader("Profile 0 0 0")));
    }

    // One line in quarter notes.
    private static UnspelledNote[] Line(string keys, int? signature) =>
        [.. keys.Split(' ').Select((k, i) => new UnspelledNote(i, i + 1, 0, int.Parse(k), signature))];

    private static void Same(string name, string expected, UnspelledNote[] notes)
    {
        var spelled = string.Join(' ', PitchSpeller.Spell(notes));
        Assert.True(expected == spelled, $"{name}: {spelled}");
    }
}
