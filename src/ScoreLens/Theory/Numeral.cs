using System.Diagnostics.CodeAnalysis;

namespace ScoreLens.Theory;

/// <summary>Numerals that are more than a degree and a quality.</summary>
public enum NumeralKind
{
    /// <summary>A degree with a quality, applied or not.</summary>
    Plain,

    /// <summary>The cadential six-four: the tonic triad over the fifth degree, as a delay of V. Written <c>Cad64</c>.</summary>
    CadentialSixFour,

    /// <summary>An Italian, French or German sixth.</summary>
    AugmentedSixth,

    /// <summary>The diminished seventh that keeps the tonic of the chord it decorates. Written <c>CTo7</c>.</summary>
    CommonToneDiminished,
}

/// <summary>
/// A Roman numeral with figured-bass figures, always explicit about quality: a bare 7 on an upper-case numeral is a minor
/// seventh above a major triad and <c>maj7</c> a major one. A numeral means nothing sounding until it meets a key:
/// see <see cref="Root(Key)"/>.
/// </summary>
public sealed record Numeral : IParsable<Numeral>
{
    /// <summary>Creates a plain numeral.</summary>
    /// <param name="degree">Scale degree, 1..7.</param>
    /// <param name="quality">Quality; not an augmented sixth.</param>
    /// <param name="inversion">Chord member in the bass: 0 root, 1 third, 2 fifth, 3 seventh.</param>
    /// <param name="alteration">Accidental before the numeral in semitones, -2..2.</param>
    /// <param name="target">What an applied chord points at.</param>
    /// <param name="extension">9, 11 or 13 on a seventh chord in root position, else 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range, or the chord has no such member.</exception>
    public Numeral(int degree, ChordQuality quality, int inversion = 0, int alteration = 0, AppliedTarget? target = null, int extension = 0)
        : this(NumeralKind.Plain, degree, quality, inversion, alteration, target, extension)
    {
        if (quality.IsAugmentedSixth())
            throw new ArgumentOutOfRangeException(nameof(quality), quality, "Use Numeral.AugmentedSixth.");
    }

    private Numeral(NumeralKind kind, int degree, ChordQuality quality, int inversion, int alteration, AppliedTarget? target, int extension)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degree, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(degree, 7);
        ArgumentOutOfRangeException.ThrowIfLessThan(alteration, -2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(alteration, 2);
        ArgumentOutOfRangeException.ThrowIfNegative(inversion);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(inversion, quality.Members().Length);
        if (extension is not (0 or 9 or 11 or 13) || (extension != 0 && (!quality.IsSeventh() || inversion != 0)))
            throw new ArgumentOutOfRangeException(nameof(extension), extension, "9, 11 or 13 on a seventh chord in root position, or 0.");
        Kind = kind;
        Degree = degree;
        Quality = quality;
        Inversion = inversion;
        Alteration = alteration;
        Target = target;
        Extension = extension;
    }

    /// <summary>Which kind of numeral this is.</summary>
    public NumeralKind Kind { get; }

    /// <summary>
    /// Scale degree of the root, 1..7; 4 for augmented sixths (raised), 1 for a cadential six-four and a common-tone diminished seventh.
    /// </summary>
    public int Degree { get; }

    /// <summary>Accidental before the numeral in semitones, -2..2.</summary>
    public int Alteration { get; }

    /// <summary>The chord's quality; a cadential six-four carries the tonic triad's.</summary>
    public ChordQuality Quality { get; }

    /// <summary>
    /// Chord member in the bass: 0 root, 1 third, 2 fifth, 3 seventh. For an augmented sixth 0 is the flat sixth in the bass.
    /// </summary>
    public int Inversion { get; }

    /// <summary>9, 11 or 13, or 0.</summary>
    public int Extension { get; }

    /// <summary>What an applied chord points at, or null.</summary>
    public AppliedTarget? Target { get; }

    /// <summary>Whether the chord is applied to a degree other than the tonic.</summary>
    public bool IsApplied => Target is { } t && (t.Of is not null || t.Degree != 1 || t.Alteration != 0);

    /// <summary>The cadential six-four of a key (or target) of <paramref name="mode"/>.</summary>
    public static Numeral CadentialSixFour(Mode mode, AppliedTarget? target = null) =>
        new(NumeralKind.CadentialSixFour, 1, mode == Mode.Minor ? ChordQuality.Minor : ChordQuality.Major, 2, 0, target, 0);

    /// <summary>An Italian, French or German sixth; inversion 0 has the flat sixth in the bass.</summary>
    public static Numeral AugmentedSixth(ChordQuality quality, int inversion = 0, AppliedTarget? target = null) =>
        quality.IsAugmentedSixth()
            ? new(NumeralKind.AugmentedSixth, 4, quality, inversion, 1, target, 0)
            : throw new ArgumentOutOfRangeException(nameof(quality), quality, "Not an augmented sixth.");

    /// <summary>The Neapolitan triad, in first inversion unless said otherwise. Written <c>N6</c>; <c>bII</c> in root position.</summary>
    public static Numeral Neapolitan(int inversion = 1, AppliedTarget? target = null) => new(2, ChordQuality.Major, inversion, -1, target);

    /// <summary>The diminished seventh that keeps the tonic of the key or target.</summary>
    public static Numeral CommonToneDiminished(int inversion = 0, AppliedTarget? target = null) =>
        new(NumeralKind.CommonToneDiminished, 1, ChordQuality.DiminishedSeventh, inversion, 0, target, 0);

    /// <summary>
    /// The numeral of a chord in a key: the degree and the shortest accidental for its root, reckoned in the target's key
    /// where one is given. Null where no written degree reaches the root (more than two accidentals away).
    /// </summary>
    public static Numeral? For(Key key, Tone root, ChordQuality quality, int inversion = 0, AppliedTarget? target = null, int extension = 0)
    {
        var context = target?.In(key) ?? key;
        if (quality.IsAugmentedSixth())
            return root - context.Tonic == 6 ? AugmentedSixth(quality, inversion, target) : null;
        return DegreeFifths.TryFind(root - context.Tonic, context.Mode, quality, out var degree, out var alteration)
            ? new Numeral(degree, quality, inversion, alteration, target, extension)
            : null;
    }

    /// <summary>Fifths from the key's tonic up to the root (the raised fourth for an augmented sixth).</summary>
    public int RootFifths(Mode keyMode)
    {
        var (start, mode) = Target is null ? (0, keyMode) : (Target.FifthsAbove(keyMode), Target.Mode);
        return start + Kind switch
        {
            NumeralKind.AugmentedSixth => 6,
            NumeralKind.CadentialSixFour or NumeralKind.CommonToneDiminished => 0,
            _ => DegreeFifths.Of(Degree, Alteration, mode, Quality),
        };
    }

    /// <summary>The root in a key.</summary>
    public Tone Root(Key key) => key.Tonic + RootFifths(key.Mode);

    /// <summary>
    /// The chord's tones in a key, in the order root, third, fifth, seventh (an augmented sixth from its flat sixth up). A common-tone
    /// diminished seventh is spelled around the tone it keeps: that tone, the raised second, the raised fourth and the sixth above it.
    /// </summary>
    public IReadOnlyList<Tone> Tones(Key key)
    {
        var root = Root(key);
        var members = Members;
        var tones = new Tone[members.Length];
        for (var i = 0; i < members.Length; i++) tones[i] = root + members[i];
        return tones;
    }

    /// <summary>The tone in the bass in a key.</summary>
    public Tone Bass(Key key) => Root(key) + Members[Inversion];

    // Each inversion has the same sound in the bass as that of any diminished seventh on the kept tone.
    private ReadOnlySpan<int> Members => Kind == NumeralKind.CommonToneDiminished ? [0, 9, 6, 3] : Quality.Members();

    /// <summary>
    /// The same chord with the shortest accidental that a key of <paramref name="keyMode"/> needs: <c>bVI</c> in minor becomes <c>VI</c>.
    /// </summary>
    public Numeral Normalised(Mode keyMode)
    {
        if (Kind != NumeralKind.Plain) return this;
        var mode = Target?.Mode ?? keyMode;
        return DegreeFifths.TryFind(DegreeFifths.Of(Degree, Alteration, mode, Quality), mode, Quality, out var degree, out var alteration)
            ? new Numeral(degree, Quality, Inversion, alteration, Target, Extension)
            : this;
    }

    /// <summary>
    /// The plain form: <c>V65/V</c>, <c>viio7</c>, <c>iiø65</c>, <c>N6</c>, <c>Ger65</c>. <see cref="Parse"/> reads it back.
    /// </summary>
    public override string ToString() => NumeralText.Plain(this);

    /// <summary>The form for scores, with raised figures and signs: <c>V⁶₅/V</c>, <c>vii°⁷</c>, <c>♭VI</c>.</summary>
    public string ToDisplayString() => NumeralText.Display(this);

    /// <summary>
    /// Reads the plain form, and the display form, with explicit quality. <c>Cad64</c> is taken to stand in major; where the key
    /// is known, <see cref="TryParse(string?, Mode, out Numeral)"/> gives it the key's own third.
    /// </summary>
    /// <exception cref="FormatException">The text is not a Roman numeral.</exception>
    public static Numeral Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var numeral) ? numeral
            : throw new FormatException($"'{s}' is not a Roman numeral such as V65/V or iiø7.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, [MaybeNullWhen(false)] out Numeral result) =>
        TryParse(s, Mode.Major, byScale: false, out result);

    /// <summary>Reads the plain form, and the display form, with explicit quality, in a key of a mode.</summary>
    public static bool TryParse([NotNullWhen(true)] string? s, Mode keyMode, [MaybeNullWhen(false)] out Numeral result) =>
        TryParse(s, keyMode, byScale: false, out result);

    /// <summary>
    /// Reads a numeral written by the classical habit, in which a bare seventh is the one that the scale gives
    /// (<c>IV7</c> in major has a major seventh, <c>vii7</c> is half-diminished).
    /// </summary>
    /// <param name="s">The text.</param>
    /// <param name="keyMode">Mode of the key that the numeral stands in.</param>
    /// <param name="result">The numeral, with its quality made explicit.</param>
    public static bool TryParseByScale([NotNullWhen(true)] string? s, Mode keyMode, [MaybeNullWhen(false)] out Numeral result) =>
        TryParse(s, keyMode, byScale: true, out result);

    private static bool TryParse(string? s, Mode keyMode, bool byScale, [MaybeNullWhen(false)] out Numeral result)
    {
        result = NumeralGrammar.Read(s ?? "", NumeralStyle.Plain)?.In(keyMode, byScale);
        return result is not null;
    }
}
