using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>One chord of a reading: from where to where, in which key, as which numeral, and how sure.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Duration">Quarter notes; above zero.</param>
/// <param name="Key">The local key.</param>
/// <param name="Numeral">The numeral in that key; null where nothing sounds or no chord can be named.</param>
/// <param name="Confidence">Stated probability, 0..1, that an expert writes this key and numeral here.</param>
/// <param name="RunnersUp">Other readings, the most probable first.</param>
public sealed record ChordReading(
    Fraction Onset,
    Fraction Duration,
    Key Key,
    Numeral? Numeral,
    double Confidence,
    IReadOnlyList<RunnerUp> RunnersUp)
{
    /// <summary>What sounds while the chord lasts, and which of its tones; known once the reading is complete.</summary>
    internal ChordSound Sound { get; init; } = ChordSound.Unknown;

    /// <summary>The score's own chord symbol that names the chord; null where the notes name it.</summary>
    public WrittenChord? Written { get; init; }

    /// <summary>
    /// The chord that the other witness says, where notes and symbol disagree: what plainly sounds where the symbol names the chord, the
    /// symbol where the notes name it. Null where they agree, or there is no symbol.
    /// </summary>
    public WrittenChord? Disagrees { get; init; }

    /// <summary>Where the chord ends.</summary>
    public Fraction End => Onset + Duration;

    /// <summary>The same chord named in another key; null where it has no numeral to be named from, or that key has none for it.</summary>
    internal ChordReading? NamedIn(Key key) =>
        Numeral is { } numeral && Theory.Numeral.For(key, numeral.Root(Key), numeral.Quality, numeral.Inversion, null,
            numeral.Extension) is { } named
            ? this with { Key = key, Numeral = named }
            : null;
}

/// <summary>Another reading of the same chord.</summary>
/// <param name="Key">Its local key.</param>
/// <param name="Numeral">Its numeral.</param>
/// <param name="Probability">Its probability, 0..1.</param>
public sealed record RunnerUp(Key Key, Numeral Numeral, double Probability);

/// <summary>A harmonic reading of a whole score: chords in order without overlap.</summary>
/// <param name="HomeKey">The key of the cue as a whole.</param>
/// <param name="Chords">The chords in order; each ends where the next begins or before.</param>
public sealed record HarmonicReading(Key HomeKey, IReadOnlyList<ChordReading> Chords);
