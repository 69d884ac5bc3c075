using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

public sealed class KeyTests
{
    // The table of key signatures as the MIDI 1.0 specification's key signature event and MusicXML's fifths count them:
    // -7 seven flats to 7 sharps, major and its relative minor. Standard MIDI Files 1.0, meta event 59.
    public static TheoryData<int, string, string> Signatures => new()
    {
        { -7, "Cb major", "Ab minor" }, { -6, "Gb major", "Eb minor" }, { -5, "Db major", "Bb minor" }, { -4, "Ab major", "F minor" },
        { -3, "Eb major", "C minor" }, { -2, "Bb major", "G minor" }, { -1, "F major", "D minor" }, { 0, "C major", "A minor" },
        { 1, "G major", "E minor" }, { 2, "D major", "B minor" }, { 3, "A major", "F# minor" }, { 4, "E major", "C# minor" },
        { 5, "B major", "G# minor" }, { 6, "F# major", "D# minor" }, { 7, "C# major", "A# minor" },
    };

    [Theory]
    [MemberData(nameof(Signatures))]
    public void A_signature_belongs_to_one_major_and_one_minor_key(int sharps, string major, string minor)
    {
        Assert.Equal(sharps, Key.Parse(major).Signature);
        Assert.Equal(sharps, Key.Parse(minor).Signature);
        Assert.Equal(Key.Parse(minor), Key.Parse(major).Relative);
        Assert.Equal(Key.Parse(major), Key.Parse(minor).Relative);
    }

    [Theory]
    [MemberData(nameof(Signatures))]
    public void A_scale_has_its_steps_and_every_letter_once(int sharps, string major, string minor)
    {
        // Whole and half steps of the scales, any handbook: W W H W W W H and W H W W H W W.
        Assert.InRange(sharps, -7, 7);
        Assert.Equal([2, 2, 1, 2, 2, 2, 1], Steps(Key.Parse(major)));
        Assert.Equal([2, 1, 2, 2, 1, 2, 2], Steps(Key.Parse(minor)));
        Assert.Equal(7, Scale(Key.Parse(major)).Select(t => t.Letter).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Signatures))]
    public void The_signs_of_a_signature_are_the_first_ones_of_the_order_of_sharps_or_flats(int sharps, string major, string minor)
    {
        var signed = Scale(Key.Parse(major)).Where(t => t.Alteration != 0).Select(t => t.ToString()).Order();
        string[] order = sharps > 0 ? ["F#", "C#", "G#", "D#", "A#", "E#", "B#"] : ["Bb", "Eb", "Ab", "Db", "Gb", "Cb", "Fb"];
        Assert.Equal(order.Take(Math.Abs(sharps)).Order(), signed);
        Assert.Equal(signed, Scale(Key.Parse(minor)).Where(t => t.Alteration != 0).Select(t => t.ToString()).Order());
    }

    [Fact]
    public void The_circle_of_fifths_goes_up_seven_semitones_and_four_letters()
    {
        for (var fifths = Tone.MinFifths; fifths < Tone.MaxFifths; fifths++)
        {
            var (tone, fifth) = (new Tone(fifths), new Tone(fifths + 1));
            Assert.Equal((tone.PitchClass + 7) % 12, fifth.PitchClass);
            Assert.Equal((tone.Step + 4) % 7, fifth.Step);
        }
    }

    [Fact]
    public void A_minor_key_takes_the_raised_sixth_and_seventh_but_no_other_raised_degree()
    {
        var key = Key.Parse("A minor");
        var own = new[] { "A", "B", "C", "D", "E", "F", "F#", "G", "G#" };
        foreach (var name in own) Assert.True(key.Contains(Tone.Parse(name)), name);
        foreach (var name in new[] { "A#", "Bb", "C#", "Db", "D#", "Eb", "Ab", "Gb", "E#" }) Assert.False(key.Contains(Tone.Parse(name)),
            name);
    }

    [Theory]
    [InlineData("C")]
    [InlineData("C dorian")]
    [InlineData("H major")]
    [InlineData("C major minor")]
    [InlineData("")]
    [InlineData(null)]
    public void What_is_no_key_is_refused(string? text) => Assert.False(Key.TryParse(text, null, out _));

    private static Tone[] Scale(Key key) => [.. Enumerable.Range(1, 7).Select(key.Degree)];

    private static int[] Steps(Key key)
    {
        var scale = Scale(key);
        return [.. Enumerable.Range(0, 7).Select(i => (scale[(i + 1) % 7].PitchClass - scale[i].PitchClass + 12) % 12)];
    }
}
