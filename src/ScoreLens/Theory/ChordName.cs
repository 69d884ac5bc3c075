using System.Diagnostics.CodeAnalysis;

namespace ScoreLens.Theory;

/// <summary>
/// A chord symbol: a root, a quality, and the bass where it is not the root. Written <c>Dm7b5/C</c>, <c>G7</c>, <c>F#maj9</c>.
/// </summary>
public sealed record ChordName : IParsable<ChordName>
{
    private static readonly (string Suffix, ChordQuality Quality, int Extension)[] Suffixes = [.. AllSuffixes()];

    /// <summary>Creates a chord symbol.</summary>
    /// <param name="root">The root as it is written: of a French sixth the flat sixth degree, on which it sounds as a 7b5.</param>
    /// <param name="quality">Quality; Italian and German sixths become the dominant seventh that they sound as.</param>
    /// <param name="bass">The bass; the root's own tone says the same as null.</param>
    /// <param name="extension">9, 11 or 13 on a seventh chord that can carry it, else 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">The quality carries no such extension.</exception>
    public ChordName(Tone root, ChordQuality quality, Tone? bass = null, int extension = 0)
    {
        if (quality is ChordQuality.ItalianSixth or ChordQuality.GermanSixth) quality = ChordQuality.DominantSeventh;
        if (extension is not (0 or 9 or 11 or 13) || (extension != 0 && !CanExtend(quality)))
            throw new ArgumentOutOfRangeException(nameof(extension), extension,
                "9, 11 or 13 on a seventh chord other than a diminished one, or 0.");
        Root = root;
        Quality = quality;
        Bass = bass == root ? null : bass;
        Extension = extension;
    }

    /// <summary>The root.</summary>
    public Tone Root { get; }

    /// <summary>The quality; a French sixth stands for a dominant seventh with a lowered fifth.</summary>
    public ChordQuality Quality { get; }

    /// <summary>The bass where it is not the root, else null.</summary>
    public Tone? Bass { get; }

    /// <summary>9, 11 or 13, or 0.</summary>
    public int Extension { get; }

    /// <summary>The chord symbol of a numeral in a key.</summary>
    public static ChordName Of(Key key, Numeral numeral)
    {
        ArgumentNullException.ThrowIfNull(numeral);
        var root = numeral.Quality.IsAugmentedSixth() ? numeral.Tones(key)[0] : numeral.Root(key);
        return new ChordName(root, numeral.Quality, numeral.Bass(key), CanExtend(numeral.Quality) ? numeral.Extension : 0);
    }

    /// <summary>Plain text: <c>Bbm7/Ab</c>. <see cref="Parse"/> reads it back.</summary>
    public override string ToString() => Root + Suffix() + (Bass is { } bass ? "/" + bass : "");

    /// <summary>With the signs that music prints: <c>B♭m7♭5/A♭</c>.</summary>
    public string ToDisplayString() =>
        Root.ToDisplayString() + Suffix().Replace('b', '♭').Replace('#', '♯') + (Bass is { } bass ? "/" + bass.ToDisplayString() : "");

    /// <summary>The same in a spelling of qualities: <c>B♭m7</c> or <c>B♭-7</c>.</summary>
    internal string ToDisplayString(SymbolSpelling spelling) => Root.ToDisplayString()
        + Suffix(Quality, Extension, spelling).Replace('b', '♭').Replace('#', '♯') + (Bass is { } bass ? "/" + bass.ToDisplayString() : "");

    /// <summary>Reads a chord symbol in the plain or the display form.</summary>
    /// <exception cref="FormatException">The text is not a chord symbol of a known quality.</exception>
    public static ChordName Parse(string s, IFormatProvider? provider = null) =>
        TryParse(s, provider, out var name) ? name : throw new FormatException($"'{s}' is not a chord symbol such as Dm7b5/C.");

    /// <inheritdoc cref="Parse"/>
    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, [MaybeNullWhen(false)] out ChordName result)
    {
        result = null;
        if (string.IsNullOrWhiteSpace(s) || s.Length > 24) return false;
        var text = s.Trim().Replace('♭', 'b').Replace('♯', '#');
        Tone? bass = null;
        if (text.IndexOf('/', StringComparison.Ordinal) is >= 0 and var slash)
        {
            if (!Tone.TryParse(text[(slash + 1)..], provider, out var tone)) return false;
            bass = tone;
            text = text[..slash];
        }

        var rootLength = 1;
        while (rootLength < text.Length && text[rootLength] is '#' or 'b') rootLength++;
        if (!char.IsAsciiLetterUpper(text.Length > 0 ? text[0] : ' ')
            || !Tone.TryParse(text[..rootLength], provider, out var root)) return false;
        foreach (var (suffix, quality, extension) in Suffixes)
        {
            if (suffix != text[rootLength..]) continue;
            result = new ChordName(root, quality, bass, extension);
            return true;
        }

        return false;
    }

    private string Suffix() => Suffix(Quality, Extension);

    /// <summary>What a symbol writes after its root for a quality and an extension.</summary>
    internal static string Suffix(ChordQuality quality, int extension, SymbolSpelling spelling)
    {
        var suffix = spelling == SymbolSpelling.Plain ? quality.SymbolSuffix() : quality switch
        {
            ChordQuality.Minor => "-",
            ChordQuality.Diminished => "°",
            ChordQuality.Augmented => "+",
            ChordQuality.MajorSeventh => "△7",
            ChordQuality.MinorSeventh => "-7",
            ChordQuality.HalfDiminishedSeventh => "ø7",
            ChordQuality.DiminishedSeventh => "°7",
            ChordQuality.AugmentedSeventh => "+7",
            ChordQuality.AugmentedMajorSeventh => "+△7",
            ChordQuality.MinorMajorSeventh => "-△7",
            _ => quality.SymbolSuffix(),
        };
        return extension == 0 || !CanExtend(quality) ? suffix
            : suffix.Replace("7", extension.ToString(System.Globalization.CultureInfo.InvariantCulture), StringComparison.Ordinal);
    }

    private static string Suffix(ChordQuality quality, int extension) => extension == 0
        ? quality.SymbolSuffix()
        : quality.SymbolSuffix().Replace("7", extension.ToString(System.Globalization.CultureInfo.InvariantCulture),
            StringComparison.Ordinal);

    private static bool CanExtend(ChordQuality quality) => quality.IsSeventh() && quality != ChordQuality.DiminishedSeventh;

    private static IEnumerable<(string Suffix, ChordQuality Quality, int Extension)> AllSuffixes() =>
        from quality in Enum.GetValues<ChordQuality>()
        where quality is not (ChordQuality.ItalianSixth or ChordQuality.GermanSixth)
        from extension in (int[])[0, 9, 11, 13]
        where extension == 0 || CanExtend(quality)
        select (Suffix(quality, extension), quality, extension);
}
