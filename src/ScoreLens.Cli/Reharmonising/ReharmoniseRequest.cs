using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reharmonising;
using ScoreLens.Reharmonising.Sets;

namespace ScoreLens.Cli.Reharmonising;

/// <summary>What the command line asks for.</summary>
internal sealed record ReharmoniseRequest(PlaceSpan? At, int? Phrase, Band Band, Wanted? Device, int? Top, Picks? Apply,
    PartChoice? Melody, bool All, MeasureRange? Measures, ColourWish? Wish, KeyRule Keys, bool OntoReduction, ClockOptions Clock,
    OfferOrder Order, bool Page)
{
    /// <summary>So many of the offers that are asked for, as they are listed.</summary>
    public OfferList Of(Reharmoniser reharmoniser, int index, int most) => reharmoniser.List(index, Order, most, All, Takes);

    /// <summary>The offers that are asked for, at least down to a rank.</summary>
    public Alternative[] UpTo(Reharmoniser reharmoniser, int index, int rank) =>
        [.. reharmoniser.List(index, Order, rank, All, Takes).Alternatives.Where(Takes)];

    public bool Takes(Alternative alternative) => Device is not { } wanted || alternative.Device == wanted.Device;
}

/// <summary>A device that is asked for; none for chords of the key.</summary>
internal sealed record Wanted(Device? Device)
{
    public const string Diatonic = "diatonic";
}
