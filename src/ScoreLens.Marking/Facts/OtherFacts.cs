using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Marking.Assignments;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Facts;

/// <summary>A given note is not kept.</summary>
/// <param name="Should">The given pitch.</param>
/// <param name="Written">What stands in its place; null where nothing does.</param>
/// <param name="IsShorter">Whether it is shorter than it was given; it matters for lengths only.</param>
internal sealed record GivenNoteFacts(Pitch Should, Pitch? Written = null, bool IsShorter = false) : RemarkFacts;

/// <summary>A figure and the chord over it.</summary>
/// <param name="Figure">The figure as it is written; empty for none.</param>
/// <param name="Bass">The bass note's tone.</param>
/// <param name="Asked">What the figure asks for, needed tones and others.</param>
/// <param name="Needed">What the chord must have.</param>
/// <param name="Missing">What it must have and has not.</param>
/// <param name="Foreign">What it has and the figure does not allow.</param>
internal sealed record FigureFacts(
    string Figure, Tone Bass, IReadOnlyList<Tone> Asked, IReadOnlyList<Tone> Needed, IReadOnlyList<Tone> Missing,
        IReadOnlyList<Tone> Foreign)
    : RemarkFacts;

/// <summary>A demand and how much of it is there.</summary>
internal sealed record DemandFacts(DeviceDemand Demand, int Found) : RemarkFacts;

/// <summary>A chord that is a device which is forbidden, or which does not go on as expected.</summary>
internal sealed record DeviceChordFacts(Key Key, Numeral Numeral, Device? Device, string? Target = null) : RemarkFacts;

/// <summary>The balance against its band.</summary>
/// <param name="Share">Share of the time outside the key.</param>
/// <param name="Band">The band.</param>
/// <param name="OfHomeKey">Whether the home key is meant.</param>
/// <param name="WorstMeasure">Where the phrase that is furthest off begins; null where one phrase is all.</param>
/// <param name="WorstShare">That phrase's share.</param>
internal sealed record BalanceFacts(Fraction Share, Band Band, bool OfHomeKey, string? WorstMeasure, Fraction WorstShare) : RemarkFacts;
