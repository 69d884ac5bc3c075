using CsCheck;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Theory;

/// <summary>What is written is read back as it was, for random values.</summary>
public sealed class RoundTripTests
{
    [Fact]
    public void A_fraction() => Generators.Fractions.Sample(f => Fraction.Parse(f.ToString()) == f);

    [Fact]
    public void A_tone_in_both_forms() =>
        Generators.Tones.Sample(t => Tone.Parse(t.ToString()) == t && Tone.Parse(t.ToDisplayString()) == t
            && Tone.Of(t.Letter, t.Alteration) == t);

    [Fact]
    public void A_key() => Generators.Keys.Sample(k => Key.Parse(k.ToString()) == k);

    [Fact]
    public void A_numeral_in_both_forms() =>
        (from mode in Generators.Modes from numeral in Generators.Numerals(mode) select (mode, numeral)).Sample((mode, numeral) =>
        Numeral.TryParse(numeral.ToString(), mode, out var plain) && plain == numeral
        && Numeral.TryParse(numeral.ToDisplayString(), mode, out var display) && display == numeral);

    [Fact]
    public void A_chord_symbol_in_both_forms() =>
        Generators.ChordNames.Sample(c => ChordName.Parse(c.ToString()) == c && ChordName.Parse(c.ToDisplayString()) == c);

    [Fact]
    public void A_numeral_found_from_its_root_has_that_root() => (
        from key in Generators.Keys
        from numeral in Generators.Numerals(key.Mode)
        where numeral.Kind is NumeralKind.Plain or NumeralKind.AugmentedSixth && Reaches(key, numeral)
        select (key, numeral)).Sample((key, numeral) =>
        {
            var found = Numeral.For(key, numeral.Root(key), numeral.Quality, numeral.Inversion, numeral.Target, numeral.Extension);
            return found is not null && found.Root(key) == numeral.Root(key) && found.Bass(key) == numeral.Bass(key)
                && found == found.Normalised(key.Mode) && Math.Abs(found.Alteration) <= Math.Abs(numeral.Alteration);
        });

    [Fact]
    public void A_pitch_counts_its_octave_from_the_letter_and_not_from_the_sound() => Generators.Pitches.Sample(p =>
    {
        // Scientific pitch notation (common practice): the number changes at the letter C, so that B#3 sounds as C4 does.
        var naturals = (int[])[0, 2, 4, 5, 7, 9, 11];
        Assert.Equal((12 * (p.Octave + 1)) + naturals["CDEFGAB".IndexOf(p.Tone.Letter, StringComparison.Ordinal)] + p.Tone.Alteration,
            p.Midi);
        Assert.Equal((7 * p.Octave) + "CDEFGAB".IndexOf(p.Tone.Letter, StringComparison.Ordinal), p.Staff);
        Assert.Equal($"{p.Tone}{p.Octave}", p.ToString());
    });

    [Fact]
    public void Arithmetic_of_fractions_is_exact() => Gen.Select(Small, Small, Small).Sample((a, b, c) =>
        (a + b) + c == a + (b + c) && (a * b) + (a * c) == a * (b + c) && (a - b) + b == a && (a.Sign == 0 || (b / a) * a == b)
        && (a < b) == (b - a).Sign > 0);

    [Fact]
    public void Any_text_is_read_or_refused_but_never_breaks_the_reader() => Gen.String.Sample(text =>
    {
        Numeral.TryParse(text, null, out _);
        Numeral.TryParseByScale(text, Mode.Minor, out _);
        ChordName.TryParse(text, null, out _);
        Key.TryParse(text, null, out _);
        Tone.TryParse(text, null, out _);
        Fraction.TryParse(text, null, out _);
    });

    [Fact]
    public void Any_text_of_a_numerals_own_signs_is_read_or_refused_but_never_breaks_the_reader() =>
        Gen.OneOf("IViv#b♭♯o°ø%+Mmajd0123456789⁷₅/NGerItFrCadCT[]{} ".ToCharArray()).Array[0, 14].Sample(signs =>
        {
            var text = new string(signs);
            // What is read can be written and read again.
            if (Numeral.TryParse(text, Mode.Minor, out var numeral))
                Assert.True(Numeral.TryParse(numeral.ToString(), Mode.Minor, out var again) && again == numeral, text);
            if (ChordName.TryParse(text, null, out var name)) Assert.Equal(name, ChordName.Parse(name.ToString()));
        });

    private static Gen<Fraction> Small => Gen.Select(Gen.Long[-500, 500], Gen.Long[1, 96])
        .Select((top, bottom) => new Fraction(top, bottom));

    private static bool Reaches(Key key, Numeral numeral)
    {
        var context = key.Tonic.Fifths + (numeral.Target?.FifthsAbove(key.Mode) ?? 0);
        var root = key.Tonic.Fifths + numeral.RootFifths(key.Mode);
        return context is >= -11 and <= 15 && root is >= -11 and <= 15;
    }
}
