using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// A numeral as it was written, before it meets a key: what it means may hang on the key's mode (a bare seventh by the
/// scale or as a dominant seventh, capitals for every degree), so <see cref="In"/> gives every usual meaning.
/// </summary>
/// <param name="Head">Accidentals, degree or name, and quality mark, in the plain form and without figures: <c>vii</c> + <c>o</c>.</param>
/// <param name="Figures">Figures in the plain form, digits only: <c>65</c>; empty for none.</param>
/// <param name="Target">What is applied to, with the slash (<c>/V</c>), or empty.</param>
/// <param name="IsNatural">Whether a natural sign stands before the degree.</param>
internal sealed record WrittenNumeral(string Head, string Figures, string Target, bool IsNatural = false)
{
    private static readonly HashSet<string> KnownFigures =
    [
        "", "5", "53", "6", "63", "64", "7", "75", "753", "73", "65", "653", "43", "643", "42", "2", "642", "9", "97", "79", "11", "13", "4", "54",
    ];

    /// <summary>Whether the figures are ones that figured bass knows.</summary>
    public bool HasKnownFigures => KnownFigures.Contains(Figures);

    /// <summary>Whether the figures are those of a root position or left out.</summary>
    public bool IsRootPosition => Figures is "" or "5" or "53" or "7" or "75" or "753" or "73";

    /// <summary>Whether it is the dominant triad with a six-four, which may be a second inversion or a cadential six-four.</summary>
    public bool IsDominantSixFour => Head is "V" or "v" && Figures == "64";

    /// <summary>Every usual meaning in a key, the classical habit first; empty where it has none.</summary>
    public IReadOnlyList<Numeral> In(Key key)
    {
        var head = Head;
        if (IsNatural)
        {
            var degree = DegreeOf(head);
            if (degree == 0) return [];
            // The sign makes the written degree a natural note: how far is that from the key's own?
            var alteration = -key.Degree(degree).Alteration;
            head = new string(alteration < 0 ? 'b' : '#', Math.Abs(alteration)) + head;
        }

        var text = head + Figures + Target;
        var meanings = new List<Numeral>(3);
        if (Numeral.TryParseByScale(text, key.Mode, out var classical)) meanings.Add(classical);
        if (Numeral.TryParse(text, null, out var plain) && !meanings.Contains(plain)) meanings.Add(plain);
        return meanings;
    }

    /// <summary>
    /// What it means where every degree is written in capitals, so that the scale alone says the quality; null where the
    /// numeral is not a bare capital degree.
    /// </summary>
    public Numeral? InCapitals(Key key)
    {
        var degree = DegreeOf(Head);
        if (degree == 0 || Target.Length > 0 || IsNatural || Head != ((string[])["I", "II", "III", "IV", "V", "VI", "VII"])[degree - 1]) return null;
        var minor = key.IsMinor ? degree is 1 or 4 : degree is 2 or 3 or 6;
        var diminished = key.IsMinor ? degree is 2 or 7 : degree is 7;
        if (!minor && !diminished) return null;
        // A diminished triad with the scale's seventh is half-diminished, except on the raised seventh degree of minor.
        var mark = !diminished ? "" : degree == 7 && key.IsMinor ? "o" : IsSeventh ? "ø" : "o";
        return Numeral.TryParseByScale(Head.ToLowerInvariant() + mark + Figures, key.Mode, out var numeral) ? numeral : null;
    }

    private bool IsSeventh => Figures is "7" or "75" or "753" or "73" or "65" or "653" or "43" or "643" or "42" or "2" or "642";

    private static int DegreeOf(string head)
    {
        var roman = new string([.. head.TakeWhile(c => c is 'I' or 'V' or 'i' or 'v')]).ToUpperInvariant();
        return Array.IndexOf(["I", "II", "III", "IV", "V", "VI", "VII"], roman) + 1;
    }

    /// <summary>The plain form as it was understood.</summary>
    public override string ToString() => (IsNatural ? "♮" : "") + Head + Figures + Target;
}
