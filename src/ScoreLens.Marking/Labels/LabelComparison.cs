using ScoreLens.Marking.Facts;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>The four things that a numeral says, each worth its part.</summary>
[Flags]
internal enum LabelParts
{
    None = 0,
    Key = 1,
    Degree = 2,
    Quality = 4,
    Inversion = 8,
    All = 15,
}

/// <summary>Compares a numeral that a student wrote with one that is expected, part by part.</summary>
/// <param name="Right">The parts that are right.</param>
/// <param name="Reason">Why two that are written differently mean the same.</param>
internal sealed record LabelComparison(LabelParts Right, Equivalence Reason)
{
    /// <summary>Compares what a label means with what is expected at the same place.</summary>
    public static LabelComparison Of(LabelMeaning written, LabelMeaning expected, LabelNotations notation) => notation switch
    {
        LabelNotations.ChordSymbols => OfSymbol(written, expected),
        LabelNotations.Functions => OfFunction(written, expected),
        _ => Of(written, expected),
    };

    // A chord symbol names what sounds: an augmented sixth is the seventh chord that it sounds as, a key is not said.
    private static LabelComparison OfSymbol(LabelMeaning written, LabelMeaning expected) => SoundsAlike(written, expected)
        ? new LabelComparison(LabelParts.All, Equivalence.None)
        : Of(written, expected) with { Right = Of(written, expected).Right | LabelParts.Key };

    // A function letter says degree and quality alone; a dominant without its root is a dominant.
    private static LabelComparison OfFunction(LabelMeaning written, LabelMeaning expected)
    {
        var right = Of(written, expected).Right | LabelParts.Inversion;
        var isRootless = written.Numeral is { Degree: 5, Target: null }
            && expected.Numeral is { Degree: 7, Target: null, Quality: var quality }
            && quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh;
        return new LabelComparison(isRootless ? right | LabelParts.Degree | LabelParts.Quality : right, Equivalence.None);
    }

    /// <summary>Compares two numerals.</summary>
    public static LabelComparison Of(LabelMeaning written, LabelMeaning expected)
    {
        var sameKey = written.Key.Mode == expected.Key.Mode && written.Key.Tonic.IsEnharmonicWith(expected.Key.Tonic);
        var (a, b) = (written.Numeral, expected.Numeral);
        var sameForm = a.Normalised(written.Key.Mode) == b.Normalised(expected.Key.Mode);
        var respelled = sameKey && written.Key.Tonic != expected.Key.Tonic;
        if (sameKey && sameForm)
        {
            return new LabelComparison(LabelParts.All, respelled ? Equivalence.RespelledKey : Equivalence.None);
        }

        var right = sameKey ? LabelParts.Key : LabelParts.None;
        if (IsSameChord(written, expected))
            return new LabelComparison(right | LabelParts.Degree | LabelParts.Quality | LabelParts.Inversion, ReasonOf(written, expected));

        // A student who missed a change of key and reads on in the new one loses the key, not every degree after it.
        var sameRoot = a.Root(written.Key).IsEnharmonicWith(b.Root(expected.Key))
            && a.Quality.IsAugmentedSixth() == b.Quality.IsAugmentedSixth();
        var sixthAsSeventh = a.Quality.IsAugmentedSixth() != b.Quality.IsAugmentedSixth() && SoundsAlike(written, expected);
        if (sameRoot || sixthAsSeventh || IsSameDegree(a, b)) right |= LabelParts.Degree;
        if (a.Quality == b.Quality) right |= LabelParts.Quality;
        if (a.Inversion == b.Inversion || a.Bass(written.Key).IsEnharmonicWith(b.Bass(expected.Key))) right |= LabelParts.Inversion;
        return new LabelComparison(right, Equivalence.None);
    }

    /// <summary>Same degree as written, applied to the same target: right but for the key.</summary>
    private static bool IsSameDegree(Numeral a, Numeral b) =>
        a.Degree == b.Degree && a.Alteration == b.Alteration && a.Target == b.Target
        && a.Quality.IsAugmentedSixth() == b.Quality.IsAugmentedSixth();

    /// <summary>Whether two labels name one chord over one bass.</summary>
    public static bool IsSameChord(LabelMeaning x, LabelMeaning y)
    {
        var (a, b) = (x.Numeral, y.Numeral);
        if (a.Kind == NumeralKind.CommonToneDiminished || b.Kind == NumeralKind.CommonToneDiminished)
            return a.Quality == b.Quality && SoundsAlike(x, y, bassToo: false);
        return a.Quality == b.Quality && a.Inversion == b.Inversion && a.Root(x.Key).IsEnharmonicWith(b.Root(y.Key));
    }

    private static bool SoundsAlike(LabelMeaning x, LabelMeaning y, bool bassToo = true) =>
        (!bassToo || x.Numeral.Bass(x.Key).IsEnharmonicWith(y.Numeral.Bass(y.Key)))
        && x.Numeral.Tones(x.Key).Select(t => t.PitchClass).ToHashSet().SetEquals(y.Numeral.Tones(y.Key).Select(t => t.PitchClass));

    private static Equivalence ReasonOf(LabelMeaning written, LabelMeaning expected)
    {
        var (a, b) = (written.Numeral, expected.Numeral);
        if (written.Key != expected.Key) return Equivalence.SameChordInOtherKey;
        if (a.Kind == NumeralKind.CadentialSixFour || b.Kind == NumeralKind.CadentialSixFour) return Equivalence.None;
        if (b.IsApplied && !a.IsApplied) return Equivalence.ExpectedSaysTarget;
        return a.Extension != b.Extension && a.Degree == b.Degree ? Equivalence.None : Equivalence.OtherWriting;
    }
}
