using System.Globalization;

namespace ScoreLens.Theory;

/// <summary>How the qualities of chord symbols are spelled.</summary>
public enum SymbolSpelling
{
    /// <summary>In letters and figures: <c>Cmaj7</c>, <c>Am7</c>, <c>Bm7b5</c>, <c>Bdim7</c>, <c>Gaug</c>.</summary>
    Plain,

    /// <summary>With the signs of jazz charts: <c>C△7</c>, <c>A-7</c>, <c>Bø7</c>, <c>B°7</c>, <c>G+</c>.</summary>
    Jazz,
}

/// <summary>
/// A chord as a chord symbol, or figures over a bass, write it: the root, every tone that the symbol stands for (sevenths, ninths,
/// alterations, suspensions, added
/// and left-out degrees among them), and the bass where it is not the root. Immutable.
/// </summary>
public sealed class WrittenChord : IEquatable<WrittenChord>
{
    // Members in fifths above the root.
    private const int MajorThird = 4, MinorThird = -3, Fifth = 1, FlatFifth = -6, SharpFifth = 8;
    private const int MinorSeventh = -2, MajorSeventh = 5, DiminishedSeventh = -9;
    private const int Ninth = 2, Eleventh = -1, Thirteenth = 3;

    private readonly int[] _members;

    // What says the quality: of a polychord the lower chord, with what the upper one adds without contradicting its third, fifth, seventh.
    private readonly int[] _own;

    /// <summary>Creates a chord.</summary>
    /// <param name="root">The root.</param>
    /// <param name="tones">The tones; the root may be left out.</param>
    /// <param name="bass">The bass; the root's own tone says the same as null.</param>
    /// <param name="figures">The figures over the bass that write the chord, where no symbol does.</param>
    public WrittenChord(Tone root, IEnumerable<Tone> tones, Tone? bass = null, string? figures = null)
    {
        ArgumentNullException.ThrowIfNull(tones);
        Root = root;
        Tones = [.. tones.Distinct()];
        Bass = bass == root ? null : bass;
        Figures = figures;
        _members = [.. Tones.Select(t => t - root)];
        _own = _members;
    }

    private WrittenChord(WrittenChord upper, WrittenChord lower)
        : this(lower.Root, [.. lower.Tones, .. upper.Tones], lower.Bass)
    {
        (Upper, Lower) = (upper, lower);
        int[][] alike = [[MajorThird, MinorThird], [Fifth, FlatFifth, SharpFifth], [MinorSeventh, MajorSeventh, DiminishedSeventh]];
        _own = [.. lower._members, .. _members.Skip(lower._members.Length)
            .Where(m => !alike.Any(a => a.Contains(m) && a.Any(lower._members.Contains)))];
    }

    /// <summary>The root.</summary>
    public Tone Root { get; }

    /// <summary>The tones that the symbol stands for, in the order in which it names them; a foreign bass is not among them.</summary>
    public IReadOnlyList<Tone> Tones { get; }

    /// <summary>The bass where it is not the root, else null.</summary>
    public Tone? Bass { get; }

    /// <summary>The figures over the bass that write the chord, empty for a bass without any; null where a chord symbol writes
    /// it.</summary>
    public string? Figures { get; }

    /// <summary>
    /// The chord that a polychord writes above the chord of <see cref="Root"/>, whose tones are among <see cref="Tones"/>; null where one
    /// chord is written.
    /// </summary>
    public WrittenChord? Upper { get; }

    /// <summary>The lower chord of a polychord alone; null where one chord is written.</summary>
    internal WrittenChord? Lower { get; }

    /// <summary>Whether the chord has a third, so that its mode is written.</summary>
    public bool HasThird => Has(MajorThird) || Has(MinorThird);

    /// <summary>9, 11 or 13 where the symbol extends a seventh chord so far by unaltered tones, else 0.</summary>
    public int Extension => !Has(MinorSeventh) && !Has(MajorSeventh) ? 0
        : Has(Thirteenth) ? 13 : Has(Eleventh) && HasThird ? 11 : Has(Ninth) ? 9 : 0;

    /// <summary>The lowered fifth of a chord with a major third, for which no quality has a name; or null.</summary>
    public Tone? LoweredFifth => Has(FlatFifth) && !Has(Fifth) && Has(MajorThird) ? Root + FlatFifth : null;

    /// <summary>The triad or seventh chord that the symbol colours. A chord without a third is major unless it is said to be
    /// minor.</summary>
    /// <param name="isMinor">Whether a third that is suspended or left out would be minor.</param>
    public ChordQuality Quality(bool isMinor = false)
    {
        if (Has(MajorThird) || (!Has(MinorThird) && (!isMinor || Has(SharpFifth))))
        {
            var isAugmented = Has(SharpFifth) && !Has(Fifth);
            return Has(MinorSeventh) ? isAugmented ? ChordQuality.AugmentedSeventh : ChordQuality.DominantSeventh
                : Has(MajorSeventh) ? isAugmented ? ChordQuality.AugmentedMajorSeventh : ChordQuality.MajorSeventh
                : isAugmented ? ChordQuality.Augmented : ChordQuality.Major;
        }

        if (Has(FlatFifth) && !Has(Fifth))
            return Has(MinorSeventh) ? ChordQuality.HalfDiminishedSeventh
                : Has(DiminishedSeventh) ? ChordQuality.DiminishedSeventh : ChordQuality.Diminished;
        return Has(MinorSeventh) ? ChordQuality.MinorSeventh
            : Has(MajorSeventh) ? ChordQuality.MinorMajorSeventh : ChordQuality.Minor;
    }

    /// <summary>Which member of a quality the bass is: 0 for the root, and for a bass that is no member.</summary>
    public int Inversion(ChordQuality quality)
    {
        if (Bass is not { } bass) return 0;
        var members = quality.Members();
        for (var member = 1; member < members.Length; member++)
            if ((Root + members[member]).IsEnharmonicWith(bass)) return member;
        return 0;
    }

    /// <summary>
    /// What the symbol adds to its quality and extension or takes from them, as short texts: <c>b9</c>, <c>#11</c>, <c>add6</c>,
    /// <c>sus4</c>, <c>no3</c>.
    /// </summary>
    public IReadOnlyList<string> Colours
    {
        get
        {
            // What figures suspend or add is the voices' business; the numeral says the chord.
            if (Figures is not null) return [];
            var (quality, extension) = (Quality(), Extension);
            var own = quality.Members().ToArray();
            var hasSeventh = quality.IsSeventh();
            var colours = new List<string>();
            if (!HasThird)
            {
                if (Has(Eleventh)) colours.Add("sus4");
                if (Has(Ninth) && !hasSeventh) colours.Add("sus2");
                if (!Has(Eleventh) && !Has(Ninth)) colours.Add("no3");
            }

            foreach (var member in _members.Except(own))
            {
                var text = member switch
                {
                    Ninth when extension >= 9 || (!HasThird && !hasSeventh) => "",
                    Ninth => "add9",
                    Eleventh when extension >= 11 || !HasThird => "",
                    Eleventh => "add4",
                    Thirteenth when extension == 13 => "",
                    Thirteenth => "add6",
                    FlatFifth => Has(Fifth) ? "addb5" : "b5",
                    SharpFifth => Has(Fifth) ? "add#5" : "#5",
                    MajorSeventh => "addmaj7",
                    _ => Altered(member),
                };
                if (text.Length > 0) colours.Add(text);
            }

            if (!Has(Fifth) && !Has(FlatFifth) && !Has(SharpFifth)) colours.Add("no5");
            if (!Has(0)) colours.Add("no1");
            return colours;
        }
    }

    /// <summary>The symbol in the plain spelling.</summary>
    public override string ToString() => ToString(SymbolSpelling.Plain);

    /// <summary>The symbol as text: <c>Bbm7b5/Ab</c>, <c>E7b9</c>, <c>G9sus4</c>, <c>F6</c>; a polychord from the top,
    /// <c>D|C7</c>; plain letters for accidentals.</summary>
    public string ToString(SymbolSpelling spelling)
    {
        if (Upper is { } upper) return $"{upper.ToString(spelling)}|{Lower!.ToString(spelling)}";
        var (quality, extension) = (Quality(), Extension);
        List<string> colours = [.. Colours];
        var six = quality is ChordQuality.Major or ChordQuality.Minor && colours.Remove("add6")
            ? colours.Remove("add9") ? "69" : "6" : "";
        var suffix = ChordName.Suffix(quality, six.Length > 0 ? 0 : extension, spelling);
        if (quality == ChordQuality.Major && colours.Count == 1 && colours[0] == "no3") (suffix, colours) = ("5", []);
        var tail = string.Concat(colours.Select(c => c.StartsWith("no", StringComparison.Ordinal)
            || (c.StartsWith("add", StringComparison.Ordinal) && c.Length > 4) ? $"({c})" : c));
        // An alteration right after the root would read as the root's own accidental.
        if (suffix.Length + six.Length == 0 && tail is ['b' or '#', ..]) tail = $"({tail})";
        return Root + suffix + six + tail + (Bass is { } bass ? "/" + bass : "");
    }

    /// <summary>
    /// What stands after the root without what is altered, added or left out: <c>7</c> of <c>A7b9</c>, <c>6</c> of <c>C69</c>; with the
    /// signs that music prints.
    /// </summary>
    internal string PlainSuffix(SymbolSpelling spelling)
    {
        var (quality, colours) = (Quality(), Colours);
        var isSixth = quality is ChordQuality.Major or ChordQuality.Minor && colours.Contains("add6");
        return Signs(ChordName.Suffix(quality, isSixth ? 0 : Extension, spelling)) + (isSixth ? "6" : "");
    }

    /// <summary>The symbol with the signs that music prints.</summary>
    public string ToDisplayString(SymbolSpelling spelling = SymbolSpelling.Plain)
    {
        var text = ToString(spelling);
        return text[0] + Signs(text[1..]);
    }

    /// <summary>
    /// A polychord: one chord over another, which has the bass and bears the harmony. "D over C7 sounds as C13(#11)" (Levine, The Jazz
    /// Theory Book, on upper structures; Persichetti, Twentieth-Century Harmony, on polychords; both from memory).
    /// </summary>
    internal static WrittenChord Over(WrittenChord upper, WrittenChord lower) => new(upper, lower);

    /// <summary>The same chord on another root, so many fifths higher.</summary>
    internal WrittenChord Moved(int fifths) => Upper is { } upper ? Over(upper.Moved(fifths), Lower!.Moved(fifths)) : new(Root + fifths, Tones.Select(t => t + fifths), Bass is { } bass ? bass + fifths : null,
        Figures);

    /// <inheritdoc/>
    public bool Equals(WrittenChord? other) =>
        other is not null && Root == other.Root && Bass == other.Bass && Figures == other.Figures
            && Equals(Upper, other.Upper) && _members.AsSpan().SequenceEqual(other._members);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as WrittenChord);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Root, Bass, _members.Length);

    private bool Has(int member) => Array.IndexOf(_own, member) >= 0;

    private static string Signs(string text) => text.Replace('b', '♭').Replace('#', '♯');

    // An altered tone of the scale above the root: b9, #11, b13.
    private static string Altered(int member)
    {
        var letter = ((((member * 4) % 7) + 7) % 7) + 1;
        var natural = letter == 7 ? -2 : ((ReadOnlySpan<int>)[0, 2, 4, -1, 1, 3])[letter - 1];
        var sign = NumeralText.Accidental((member - natural) / 7);
        var degree = letter is 2 or 4 or 6 ? letter + 7 : letter;
        return (letter is 1 or 3 or 7 ? "add" : "") + sign + degree.ToString(CultureInfo.InvariantCulture);
    }
}
