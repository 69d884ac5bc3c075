using System.Diagnostics.CodeAnalysis;

namespace ScoreLens.Theory;

/// <summary>Major or minor.</summary>
public enum Mode
{
    /// <summary>Major.</summary>
    Major,

    /// <summary>Minor: natural, harmonic and melodic together.</summary>
    Minor,
}

/// <summary>A key: a spelled tonic and a mode. Written <c>C major</c>, <c>F# minor</c>.</summary>
public readonly record struct Key(Tone Tonic, Mode Mode) : IParsable<Key>
{
    /// <summary>Whether the mode is minor.</summary>
    public bool IsMinor => Mode == Mode.Minor;

    /// <summary>The key signature in sharps (flats negative) that this key is written with.</summary>
    public int Signature => Tonic.Fifths - (IsMinor ? 3 : 0);

    /// <summary>The key with the same tonic and the other mode.</summary>
    public Key Parallel => new(Tonic, IsMinor ? Mode.Major : Mode.Minor);

    /// <summary>The key with the same signature and the other mode.</summary>
    public Key Relative => IsMinor ? new(Tonic + -3, Mode.Major) : new(Tonic + 3, Mode.Minor);

    /// <summary>
    /// The natural scale, in fifths above the tonic, from the first degree to the seventh: major, or natural minor.
    /// </summary>
    public ReadOnlySpan<int> ScaleFifths => IsMinor ? [0, 2, -3, -1, 1, -4, -2] : [0, 2, 4, -1, 1, 3, 5];

    /// <summary>The tone of a degree 1..7 of the natural scale.</summary>
    public Tone Degree(int degree) => Tonic + ScaleFifths[degree - 1];

    /// <summary>
    /// Whether a tone belongs to the key's own scale; in minor the natural, harmonic and melodic forms together, so that
    /// the raised sixth and seventh degrees belong too.
    /// </summary>
    public bool Contains(Tone tone)
    {
        var above = tone - Tonic;
        return IsMinor ? above is >= -4 and <= 3 or 5 : above is >= -1 and <= 5;
    }

    /// <summary>Plain text: <c>C major</c>. <see cref="Parse"/> reads it back.</summary>
    public override string ToString() => $"{Tonic} {(IsMinor ? "minor" : "major")}";

    /// <summary>Reads <c>C major</c>, <c>F# minor</c>.</summary>
    /// <exception cref="FormatException">The text is not a key.</exception>
    public static Key Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var key) ? key : throw new FormatException($"'{s}' is not a key such as 'C major' or 'F# minor'.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out Key result)
    {
        result = default;
        if (s?.Trim().Split(' ', StringSplitOptions.RemoveEmptyEntries) is not [var name, var mode]) return false;
        if (!Tone.TryParse(name, provider, out var tonic)) return false;
        if (mode.Equals("major", StringComparison.OrdinalIgnoreCase)) result = new Key(tonic, Mode.Major);
        else if (mode.Equals("minor", StringComparison.OrdinalIgnoreCase)) result = new Key(tonic, Mode.Minor);
        else return false;
        return true;
    }
}
