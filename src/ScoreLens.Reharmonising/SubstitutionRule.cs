using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>A chord that a rule offers for a place.</summary>
/// <param name="Numerals">The chord in the inversions that will do, of which the smoothest is taken.</param>
/// <param name="Device">The device that it has to be found to be there; null where it has to be diatonic.</param>
/// <param name="Why">Why it is offered.</param>
internal sealed record Substitution(IReadOnlyList<Numeral> Numerals, Device? Device, OfferReason Why)
{
    /// <summary>Whether it may be any device there or none, and may go on in any way: what it is, is told.</summary>
    public bool IsAnyDevice { get; init; }

    /// <summary>Whether it is asked for by name, whatever it is.</summary>
    public bool IsAsked { get; init; }

    /// <summary>
    /// The same chord without its seventh, in root position and first inversion (a diminished triad in its first inversion alone); null
    /// where it has none or the seventh makes it what it is.
    /// </summary>
    public Substitution? WithoutSeventh()
    {
        if (Numerals[0] is not { Kind: NumeralKind.Plain } numeral || TriadOf(numeral.Quality) is not { } quality) return null;
        var triad = new Numeral(numeral.Degree, quality, 0, numeral.Alteration, numeral.Target);
        return this with
        {
            Numerals = [.. ((int[])(quality == ChordQuality.Diminished ? [1] : [0, 1])).Select(i => Inverted(triad, i))],
            Why = Why is LeadsOn leads ? leads with { HasSeventh = false } : Why,
        };
    }

    private static ChordQuality? TriadOf(ChordQuality quality) => quality switch
    {
        ChordQuality.DominantSeventh or ChordQuality.MajorSeventh => ChordQuality.Major,
        ChordQuality.MinorSeventh => ChordQuality.Minor,
        ChordQuality.HalfDiminishedSeventh or ChordQuality.DiminishedSeventh => ChordQuality.Diminished,
        _ => null,
    };

    /// <summary>A chord in some inversions.</summary>
    public static Substitution? Of(Numeral? numeral, Device? device, OfferReason why, params int[] inversions) =>
        numeral is null ? null : new Substitution([.. inversions.Select(i => Inverted(numeral, i))], device, why);

    /// <summary>A chord given in the plain form, in some inversions.</summary>
    public static Substitution Of(string numeral, Device? device, OfferReason why, params int[] inversions) =>
        Of(Numeral.Parse(numeral), device, why, inversions)!;

    private static Numeral Inverted(Numeral numeral, int inversion) => numeral.Kind switch
    {
        NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, inversion, numeral.Target),
        NumeralKind.CommonToneDiminished => Numeral.CommonToneDiminished(inversion, numeral.Target),
        NumeralKind.CadentialSixFour => numeral,
        _ => new Numeral(numeral.Degree, numeral.Quality, inversion, numeral.Alteration, numeral.Target),
    };
}

/// <summary>A rule of harmony that knows chords for a place. What it offers is still judged by the melody and by how it goes on.</summary>
internal interface ISubstitutionRule
{
    /// <summary>The chords that the rule has for a place.</summary>
    IEnumerable<Substitution?> Offer(ChordPlace place);
}
