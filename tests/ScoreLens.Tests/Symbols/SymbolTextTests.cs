using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Symbols;

/// <summary>
/// The spellings of chord symbols that are in use, as Brandt and Roemer list them (Standardized Chord Symbol Notation, 1976; from memory).
/// </summary>
public sealed class SymbolTextTests
{
    [Theory]
    [InlineData("C", "C", "C E G")]
    [InlineData("Cm", "Cm", "C Eb G")]
    [InlineData("C-", "Cm", "C Eb G")]
    [InlineData("Cmin", "Cm", "C Eb G")]
    [InlineData("Cmaj7", "Cmaj7", "C E G B")]
    [InlineData("CM7", "Cmaj7", "C E G B")]
    [InlineData("CΔ7", "Cmaj7", "C E G B")]
    [InlineData("Cma7", "Cmaj7", "C E G B")]
    [InlineData("C7", "C7", "C E G Bb")]
    [InlineData("Cm7", "Cm7", "C Eb G Bb")]
    [InlineData("C-7", "Cm7", "C Eb G Bb")]
    [InlineData("Cmi7", "Cm7", "C Eb G Bb")]
    [InlineData("Cm7b5", "Cm7b5", "C Eb Gb Bb")]
    [InlineData("C-7(b5)", "Cm7b5", "C Eb Gb Bb")]
    [InlineData("Cø", "Cm7b5", "C Eb Gb Bb")]
    [InlineData("C°7", "Cdim7", "C Eb Gb Bbb")]
    [InlineData("Cdim", "Cdim", "C Eb Gb")]
    [InlineData("C+", "Caug", "C E G#")]
    [InlineData("C7+", "C7#5", "C E G# Bb")]
    [InlineData("C+7", "C7#5", "C E G# Bb")]
    [InlineData("C7#5", "C7#5", "C E G# Bb")]
    [InlineData("CmMaj7", "CmMaj7", "C Eb G B")]
    [InlineData("Cm(maj7)", "CmMaj7", "C Eb G B")]
    [InlineData("C6", "C6", "C E G A")]
    [InlineData("C6/9", "C69", "C E G A D")]
    [InlineData("Cm6", "Cm6", "C Eb G A")]
    [InlineData("C9", "C9", "C E G Bb D")]
    [InlineData("Cmaj9", "Cmaj9", "C E G B D")]
    [InlineData("C13", "C13", "C E G Bb D A")]
    [InlineData("C7b9", "C7b9", "C E G Bb Db")]
    [InlineData("C7(b9,#5)", "C7#5b9", "C E G# Bb Db")]
    [InlineData("C7#9", "C7#9", "C E G Bb D#")]
    [InlineData("C9#11", "C9#11", "C E G Bb D F#")]
    [InlineData("C7b5", "C7b5", "C E Gb Bb")]
    [InlineData("Csus4", "Csus4", "C G F")]
    [InlineData("Csus", "Csus4", "C G F")]
    [InlineData("Csus2", "Csus2", "C G D")]
    [InlineData("C7sus4", "C7sus4", "C G Bb F")]
    [InlineData("Cadd9", "Cadd9", "C E G D")]
    [InlineData("C5", "C5", "C G")]
    [InlineData("Bbm7/Ab", "Bbm7/Ab", "Bb Db F Ab")]
    [InlineData("F♯m7", "F#m7", "F# A C# E")]
    [InlineData("G/B", "G/B", "G B D")]
    [InlineData("C(#11)", "C(#11)", "C E G F#")]
    // Polychords: an upright line for the stroke between two chords, or a stroke before a chord with a quality.
    [InlineData("D|C7", "D|C7", "C E G Bb D F# A")]
    [InlineData("E♭ / F7", "Eb|F7", "F A C Eb G Bb")]
    [InlineData("G/B|Dm", "G/B|Dm", "D F A G B")]
    public void Every_spelling_of_a_chord_is_the_chord(string text, string plain, string tones)
    {
        var chord = SymbolText.Read(text);
        Assert.NotNull(chord);
        Assert.Equal(plain, chord.ToString());
        Assert.Equal(tones, string.Join(' ', chord.Tones));
        Assert.Equal(chord, SymbolText.Read(chord.ToString()));
        Assert.Equal(chord, SymbolText.Read(chord.ToString(SymbolSpelling.Jazz)));
        Assert.Equal(chord, SymbolText.Read(chord.ToDisplayString()));
    }

    [Theory]
    [InlineData("Bm7b5", "Bø7")]
    [InlineData("Cmaj7", "C△7")]
    [InlineData("Am7", "A-7")]
    [InlineData("Bdim7", "B°7")]
    [InlineData("Gaug", "G+")]
    [InlineData("Ebmaj9", "Eb△9")]
    [InlineData("F7b9", "F7b9")]
    public void Jazz_spelling_has_signs_for_qualities(string plain, string jazz) =>
        Assert.Equal(jazz, SymbolText.Read(plain)!.ToString(SymbolSpelling.Jazz));

    [Theory]
    [InlineData("")]
    [InlineData("H7")]
    [InlineData("Allegro")]
    [InlineData("Am I blue")]
    [InlineData("Fine")]
    [InlineData("D.C.")]
    [InlineData("Ed.")]
    [InlineData("C7x")]
    [InlineData("Gently")]
    [InlineData("Bass")]
    [InlineData("Add 2nd")]
    public void Words_are_no_chord_symbols(string text) => Assert.Null(SymbolText.Read(text));
}
