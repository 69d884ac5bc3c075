namespace ScoreLens.Theory;

/// <summary>The sign between a degree and its figures that says the quality.</summary>
internal enum NumeralMark
{
    /// <summary>None: the case of the numeral and the figures say everything.</summary>
    None,

    /// <summary><c>o</c>, <c>°</c>, <c>dim</c>.</summary>
    Diminished,

    /// <summary><c>ø</c>.</summary>
    HalfDiminished,

    /// <summary><c>+</c>, <c>aug</c>.</summary>
    Augmented,

    /// <summary><c>maj</c>, <c>M</c>: the seventh is major.</summary>
    MajorSeventh,

    /// <summary><c>+maj</c>.</summary>
    AugmentedMajorSeventh,

    /// <summary><c>dom</c>: the seventh is minor whatever the scale says.</summary>
    Dominant,
}

/// <summary>
/// A numeral as it is written, before it meets a key: what it means may hang on the key's mode (a bare seventh by the scale
/// or as a minor seventh, capitals for every degree).
/// </summary>
/// <param name="Alteration">Accidental before the degree in semitones, -2..2.</param>
/// <param name="Name">The degree in Roman numerals, its case as written, or <c>It</c>, <c>Fr</c>, <c>Ger</c>, <c>N</c>, <c>Cad</c>,
/// <c>CTo</c>.</param>
/// <param name="Mark">The sign for the quality.</param>
/// <param name="Figures">Figures, digits only: <c>65</c>; empty for none.</param>
/// <param name="Target">What is applied to, or null.</param>
/// <param name="IsNatural">Whether a natural sign stands before the degree.</param>
internal sealed record WrittenNumeral(
    int Alteration, string Name, NumeralMark Mark, string Figures, AppliedTarget? Target, bool IsNatural = false)
{
    private const int MostFigures = 4;

    private static readonly string[] Upper = ["I", "II", "III", "IV", "V", "VI", "VII"];

    /// <summary>A cadential six-four, applied or not.</summary>
    public static WrittenNumeral CadentialSixFour(AppliedTarget? target) => new(0, "Cad", NumeralMark.None, "64", target);

    /// <summary>The degree, 1..7; 0 for a named chord.</summary>
    public int Degree => Array.IndexOf(Upper, Name.ToUpperInvariant()) + 1;

    /// <summary>Whether the degree is written in capitals.</summary>
    public bool IsUpper => Degree > 0 && char.IsUpper(Name[0]);

    /// <summary>Whether the figures are ones that figured bass knows.</summary>
    public bool HasKnownFigures => FigureMeaning(Figures) is not null;

    /// <summary>Whether the figures are those of a root position or left out.</summary>
    public bool IsRootPosition => Figures is "" or "5" or "53" or "7" or "75" or "753" or "73";

    /// <summary>Whether it is the dominant triad, without accidental or mark.</summary>
    public bool IsPlainDominant => Degree == 5 && Alteration == 0 && Mark == NumeralMark.None;

    /// <summary>The numeral in a key of a mode; null where the chord has no such inversion or the figures are too many.</summary>
    /// <param name="keyMode">Mode of the key.</param>
    /// <param name="byScale">Whether a bare seventh is the scale's own, as the classical habit has it.</param>
    public Numeral? In(Mode keyMode, bool byScale)
    {
        if (Figures.Length > MostFigures) return null;
        var isSeventh = Figures.Contains('7', StringComparison.Ordinal) || Figures.Contains('9', StringComparison.Ordinal);
        var (inversion, seventh) = FigureMeaning(Figures) ?? (0, isSeventh);
        var localMode = Target?.Mode ?? keyMode;
        switch (Name)
        {
            case "It": return Numeral.AugmentedSixth(ChordQuality.ItalianSixth, SixthInversion(ChordQuality.ItalianSixth), Target);
            case "Fr": return Numeral.AugmentedSixth(ChordQuality.FrenchSixth, SixthInversion(ChordQuality.FrenchSixth), Target);
            case "Ger": return Numeral.AugmentedSixth(ChordQuality.GermanSixth, SixthInversion(ChordQuality.GermanSixth), Target);
            case "Cad": return Numeral.CadentialSixFour(localMode, Target);
            case "CTo": return Numeral.CommonToneDiminished(inversion, Target);
            case "N" when seventh: return new Numeral(2, ChordQuality.MajorSeventh, inversion, -1, Target);
            case "N": return Numeral.Neapolitan(Figures.Length == 0 ? 1 : inversion, Target);
        }

        var quality = Quality(seventh, byScale ? localMode : null);
        if (inversion >= quality.Members().Length) return null;
        var extension = Figures switch { "9" or "97" => 9, "11" => 11, "13" => 13, _ => 0 };
        return new Numeral(Degree, quality, inversion, Alteration, Target, quality.IsSeventh() && inversion == 0 ? extension : 0);
    }

    /// <summary>Every usual meaning in a key, the classical habit first; empty where it has none.</summary>
    public IReadOnlyList<Numeral> In(Key key)
    {
        var written = this;
        if (IsNatural)
        {
            if (Degree == 0) return [];
            // The sign makes the written degree a natural note: how far is that from the key's own?
            var alteration = -key.Degree(Degree).Alteration;
            if (Math.Abs(alteration) > 2) return [];
            written = this with { Alteration = alteration, IsNatural = false };
        }

        var augmented = Mark == NumeralMark.Augmented && Degree == 3 && Alteration == 0 && (Target?.Mode ?? key.Mode) == Mode.Minor
            ? (written with { Mark = NumeralMark.AugmentedMajorSeventh }).In(key.Mode, byScale: true) : null;
        return [.. new[] { written.In(key.Mode, byScale: true), written.In(Mode.Major, byScale: false), augmented }
            .OfType<Numeral>().Distinct()];
    }

    /// <summary>
    /// What it means where every degree is written in capitals, so that the scale alone says the quality; null where the
    /// numeral is not a bare capital degree of a minor or diminished chord.
    /// </summary>
    public Numeral? InCapitals(Key key)
    {
        if (!IsUpper || Alteration != 0 || Mark != NumeralMark.None || Target is not null || IsNatural) return null;
        var minor = key.IsMinor ? Degree is 1 or 4 : Degree is 2 or 3 or 6;
        var diminished = key.IsMinor ? Degree is 2 or 7 : Degree is 7;
        if (!minor && !diminished) return null;
        // A diminished triad with the scale's seventh is half-diminished, except on the raised seventh degree of minor.
        var isHalf = FigureMeaning(Figures) is { IsSeventh: true } && !(Degree == 7 && key.IsMinor);
        var mark = !diminished ? NumeralMark.None : isHalf ? NumeralMark.HalfDiminished : NumeralMark.Diminished;
        return (this with { Name = Name.ToLowerInvariant(), Mark = mark }).In(key.Mode, byScale: true);
    }

    /// <summary>The plain form as it was understood.</summary>
    public override string ToString()
    {
        var mark = Mark switch
        {
            NumeralMark.Diminished => "o",
            NumeralMark.HalfDiminished => "ø",
            NumeralMark.Augmented => "+",
            NumeralMark.MajorSeventh => "maj",
            NumeralMark.AugmentedMajorSeventh => "+maj",
            NumeralMark.Dominant => "dom",
            _ => "",
        };
        var sign = IsNatural ? "♮" : NumeralText.Accidental(Alteration);
        return sign + Name + mark + Figures + (Target is null ? "" : "/" + Target);
    }

    private ChordQuality Quality(bool seventh, Mode? scale)
    {
        switch (Mark)
        {
            case NumeralMark.HalfDiminished: return ChordQuality.HalfDiminishedSeventh;
            case NumeralMark.Diminished: return seventh ? ChordQuality.DiminishedSeventh : ChordQuality.Diminished;
            case NumeralMark.Augmented or NumeralMark.AugmentedMajorSeventh when !seventh: return ChordQuality.Augmented;
            case NumeralMark.Augmented: return ChordQuality.AugmentedSeventh;
            case NumeralMark.AugmentedMajorSeventh: return ChordQuality.AugmentedMajorSeventh;
        }

        if (!seventh) return IsUpper ? ChordQuality.Major : ChordQuality.Minor;
        if (Mark == NumeralMark.MajorSeventh) return IsUpper ? ChordQuality.MajorSeventh : ChordQuality.MinorMajorSeventh;
        if (!IsUpper) return Degree == 7 && scale == Mode.Major ? ChordQuality.HalfDiminishedSeventh : ChordQuality.MinorSeventh;
        if (scale is not { } mode || Mark == NumeralMark.Dominant) return ChordQuality.DominantSeventh;
        var scaleSeventh = (mode == Mode.Major ? Degree is 1 or 4 : Degree is 3 or 6) && Alteration <= 0;
        var flatSeventh = Alteration < 0 && (Degree == 2 || (mode == Mode.Major && Alteration == -1 && Degree is 3 or 6));
        return scaleSeventh || flatSeventh ? ChordQuality.MajorSeventh : ChordQuality.DominantSeventh;
    }

    /// <summary>The inversion and the presence of a seventh that figures say, as figured bass abbreviates them; null for others.</summary>
    private static (int Inversion, bool IsSeventh)? FigureMeaning(string figures) => figures switch
    {
        "" or "5" or "53" or "54" or "4" => (0, false),
        "6" or "63" => (1, false),
        "64" => (2, false),
        "7" or "75" or "753" or "73" or "9" or "97" or "79" or "11" or "13" => (0, true),
        "65" or "653" => (1, true),
        "43" or "643" => (2, true),
        "42" or "2" or "642" => (3, true),
        _ => null,
    };

    private int SixthInversion(ChordQuality sixth) => (sixth, Figures) switch
    {
        (ChordQuality.ItalianSixth, "53" or "5") => 1,
        (ChordQuality.ItalianSixth, "64") => 2,
        (ChordQuality.FrenchSixth, "7") => 1,
        (ChordQuality.FrenchSixth, "42" or "2") => 2,
        (ChordQuality.FrenchSixth, "65") => 3,
        (ChordQuality.GermanSixth, "7") => 1,
        (ChordQuality.GermanSixth, "43") => 2,
        (ChordQuality.GermanSixth, "42" or "2") => 3,
        _ => 0,
    };
}
