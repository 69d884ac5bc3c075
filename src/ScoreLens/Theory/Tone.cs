using System.Diagnostics.CodeAnalysis;

namespace ScoreLens.Theory;

/// <summary>
/// A spelled pitch class, as its place on the line of fifths: F = -1, C = 0, G = 1, … F# = 6, Bb = -2. From -22 to 26,
/// which is three flats to three sharps on any letter. G# (8) and Ab (-4) are different tones that sound alike.
/// </summary>
public readonly record struct Tone : IComparable<Tone>, IParsable<Tone>
{
    /// <summary>The lowest place on the line of fifths, F with three flats.</summary>
    public const int MinFifths = -22;

    /// <summary>The highest place on the line of fifths, B with three sharps.</summary>
    public const int MaxFifths = 26;

    private const string LettersByFifths = "FCGDAEB";

    /// <summary>The tone at <paramref name="fifths"/> on the line of fifths, C being 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Outside -22..26.</exception>
    public Tone(int fifths)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fifths, MinFifths);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(fifths, MaxFifths);
        Fifths = fifths;
    }

    /// <summary>The tone with a letter from A to G and an alteration in semitones (sharps positive, -3..3).</summary>
    public static Tone Of(char letter, int alteration = 0)
    {
        var place = LettersByFifths.IndexOf(char.ToUpperInvariant(letter), StringComparison.Ordinal);
        if (place < 0) throw new ArgumentOutOfRangeException(nameof(letter), letter, "A pitch letter is A to G.");
        return new Tone(place - 1 + (7 * alteration));
    }

    /// <summary>Place on the line of fifths, C being 0, sharps positive.</summary>
    public int Fifths { get; }

    /// <summary>The letter, A to G.</summary>
    public char Letter => LettersByFifths[Mod(Fifths + 1, 7)];

    /// <summary>The accidental in semitones: -1 flat, 0 natural, 1 sharp; -3..3.</summary>
    public int Alteration => FloorDiv(Fifths + 1, 7);

    /// <summary>The letter as a step above C: C = 0 … B = 6.</summary>
    public int Step => Mod(4 * Fifths, 7);

    /// <summary>The sounding pitch class, 0..11, C being 0.</summary>
    public int PitchClass => Mod(Fifths * 7, 12);

    /// <summary>The tone <paramref name="fifths"/> perfect fifths higher (lower where negative).</summary>
    public static Tone operator +(Tone tone, int fifths) => new(tone.Fifths + fifths);

    /// <summary>How many perfect fifths <paramref name="a"/> lies above <paramref name="b"/>: the spelled interval between them.</summary>
    public static int operator -(Tone a, Tone b) => a.Fifths - b.Fifths;

    /// <summary>Whether both sound alike, whatever their spelling.</summary>
    public bool IsEnharmonicWith(Tone other) => PitchClass == other.PitchClass;

    /// <summary>Semitones from one tone up to another, 0..11.</summary>
    public static int Semitones(Tone from, Tone to) => Mod(to.PitchClass - from.PitchClass, 12);

    /// <summary>The spelling with the same sound that lies nearest to <paramref name="centre"/> on the line of fifths.</summary>
    public Tone NearestTo(Tone centre)
    {
        var fifths = centre.Fifths + Mod(Fifths - centre.Fifths + 5, 12) - 5;
        return fifths is >= MinFifths and <= MaxFifths ? new Tone(fifths) : this;
    }

    /// <summary>Order on the line of fifths.</summary>
    public int CompareTo(Tone other) => Fifths.CompareTo(other.Fifths);

    /// <summary>Whether one tone is flatter than another on the line of fifths.</summary>
    public static bool operator <(Tone left, Tone right) => left.CompareTo(right) < 0;

    /// <summary>Whether one tone is at most as sharp as another on the line of fifths.</summary>
    public static bool operator <=(Tone left, Tone right) => left.CompareTo(right) <= 0;

    /// <summary>Whether one tone is sharper than another on the line of fifths.</summary>
    public static bool operator >(Tone left, Tone right) => left.CompareTo(right) > 0;

    /// <summary>Whether one tone is at least as sharp as another on the line of fifths.</summary>
    public static bool operator >=(Tone left, Tone right) => left.CompareTo(right) >= 0;

    /// <summary>Plain text: <c>F#</c>, <c>Bb</c>, <c>Ebb</c>. <see cref="Parse"/> reads it back.</summary>
    public override string ToString() => Letter + new string(Alteration < 0 ? 'b' : '#', Math.Abs(Alteration));

    /// <summary>With the signs that music prints: <c>F♯</c>, <c>B♭</c>.</summary>
    public string ToDisplayString() => Letter + new string(Alteration < 0 ? '♭' : '♯', Math.Abs(Alteration));

    /// <summary>Reads a letter (either case) with up to three <c>#</c>, <c>b</c>, <c>♯</c> or <c>♭</c>.</summary>
    /// <exception cref="FormatException">The text is not a pitch name.</exception>
    public static Tone Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var tone) ? tone : throw new FormatException($"'{s}' is not a pitch name such as C, F# or Bb.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out Tone result)
    {
        result = default;
        if (string.IsNullOrEmpty(s) || s.Length > 4) return false;
        var place = LettersByFifths.IndexOf(char.ToUpperInvariant(s[0]), StringComparison.Ordinal);
        if (place < 0) return false;
        var alteration = 0;
        foreach (var sign in s.AsSpan(1))
        {
            if (sign is '#' or '♯' && alteration >= 0) alteration++;
            else if (sign is 'b' or '♭' && alteration <= 0) alteration--;
            else return false;
        }

        result = new Tone(place - 1 + (7 * alteration));
        return true;
    }

    private static int Mod(int value, int modulus) => ((value % modulus) + modulus) % modulus;

    private static int FloorDiv(int value, int divisor) => (value - Mod(value, divisor)) / divisor;
}
