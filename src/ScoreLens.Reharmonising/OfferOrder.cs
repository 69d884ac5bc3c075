using ScoreLens.Density;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>What the list of a chord's alternatives is sorted by.</summary>
public enum OfferOrder
{
    /// <summary>Everything together: <see cref="Alternative.Score"/>.</summary>
    Best,

    /// <summary>How often experts have the chord at such places: <see cref="Alternative.Experts"/>.</summary>
    Experts,

    /// <summary>How little the voices move: <see cref="Alternative.Semitones"/>.</summary>
    Smoothness,

    /// <summary>How near the phrase's share of colour then lies to the middle of the band.</summary>
    Dose,
}

/// <summary>The names of orders on the command line.</summary>
public static class OfferOrderNames
{
    /// <summary>Every name: <c>best</c>, <c>experts</c>, <c>smoothness</c>, <c>dose</c>.</summary>
    public static IReadOnlyList<string> All { get; } = ["best", "experts", "smoothness", "dose"];

    /// <summary>The name of an order.</summary>
    public static string Name(this OfferOrder order) => All[(int)order];

    /// <summary>The order of a name; false where there is none.</summary>
    public static bool TryParse(string? name, out OfferOrder order)
    {
        var place = All.ToList().IndexOf(name ?? "");
        order = (OfferOrder)Math.Max(0, place);
        return place >= 0;
    }
}

/// <summary>Sorts alternatives; what an order holds equal is sorted by the score.</summary>
internal static class OfferOrders
{
    public static List<T> OrderBy<T>(this IEnumerable<T> things, Func<T, Alternative> of, OfferOrder order, Band band) =>
    [
        .. (order switch
        {
            OfferOrder.Experts => things.OrderByDescending(t => of(t).Experts),
            OfferOrder.Smoothness => things.OrderBy(t => of(t).Semitones).ThenByDescending(t => of(t).CommonTones),
            OfferOrder.Dose => things.OrderBy(t => Math.Abs((of(t).Balance.PhraseAfter - Middle(band)).ToDouble())),
            _ => things.OrderBy(_ => 0),
        }).ThenByDescending(t => of(t).Score),
    ];

    private static Fraction Middle(Band band) => (band.Low + band.High) / 2;
}
