using System.Text;

namespace ScoreLens.Theory;

/// <summary>How a <see cref="Numeral"/> is written: plain text, and text for scores. <see cref="NumeralGrammar"/> reads both.</summary>
internal static class NumeralText
{
    private static readonly string[] Upper = ["I", "II", "III", "IV", "V", "VI", "VII"];
    private static readonly string[] Lower = ["i", "ii", "iii", "iv", "v", "vi", "vii"];

    public static string Roman(int degree, bool upper) => (upper ? Upper : Lower)[degree - 1];

    public static string Accidental(int alteration) => new(alteration < 0 ? 'b' : '#', Math.Abs(alteration));

    public static string Plain(Numeral n)
    {
        var text = new StringBuilder(Head(n)).Append(Figures(n));
        if (n.Target is not null) text.Append('/').Append(n.Target);
        return text.ToString();
    }

    public static string Display(Numeral n)
    {
        var figures = Figures(n);
        var raised = figures.Length == 2 && n.Extension < 10
            ? $"{Superscript(figures[0])}{Subscript(figures[1])}"
            : string.Concat(figures.Select(Superscript));
        var text = Signs(Head(n)) + raised;
        return n.Target is null ? text : $"{text}/{Signs(n.Target.ToString())}";
    }

    private static string Head(Numeral n)
    {
        switch (n.Kind)
        {
            case NumeralKind.CadentialSixFour: return "Cad";
            case NumeralKind.CommonToneDiminished: return "CTo";
            case NumeralKind.AugmentedSixth:
                return n.Quality switch { ChordQuality.ItalianSixth => "It", ChordQuality.FrenchSixth => "Fr", _ => "Ger" };
            case NumeralKind.Plain when IsNeapolitanSixth(n): return "N";
            default:
                var mark = n.Quality switch
                {
                    ChordQuality.Diminished or ChordQuality.DiminishedSeventh => "o",
                    ChordQuality.HalfDiminishedSeventh => "ø",
                    ChordQuality.Augmented or ChordQuality.AugmentedSeventh => "+",
                    ChordQuality.AugmentedMajorSeventh => "+maj",
                    ChordQuality.MajorSeventh or ChordQuality.MinorMajorSeventh => "maj",
                    _ => "",
                };
                return Accidental(n.Alteration) + Roman(n.Degree, n.Quality.HasMajorThird()) + mark;
        }
    }

    private static bool IsNeapolitanSixth(Numeral n) => n is { Degree: 2, Alteration: -1, Quality: ChordQuality.Major, Inversion: 1 };

    private static string Figures(Numeral n) => n.Quality switch
    {
        ChordQuality.ItalianSixth => n.Inversion switch { 0 => "6", 1 => "53", _ => "64" },
        ChordQuality.FrenchSixth => n.Inversion switch { 0 => "43", 1 => "7", 2 => "42", _ => "65" },
        ChordQuality.GermanSixth => n.Inversion switch { 0 => "65", 1 => "7", 2 => "43", _ => "42" },
        _ when n.Extension != 0 => n.Extension.ToString(System.Globalization.CultureInfo.InvariantCulture),
        var q when q.IsSeventh() => n.Inversion switch { 0 => "7", 1 => "65", 2 => "43", _ => "42" },
        _ => n.Inversion switch { 0 => "", 1 => "6", _ => "64" },
    };

    private static string Signs(string plain) =>
        plain.Replace('b', '♭').Replace('#', '♯').Replace("CTo", "CT°", StringComparison.Ordinal).Replace('o', '°');

    private static char Superscript(char digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[digit - '0'];

    private static char Subscript(char digit) => "₀₁₂₃₄₅₆₇₈₉"[digit - '0'];
}
