namespace ScoreLens.Reharmonising;

/// <summary>Why a rule offers a chord, as facts; the half sentences stand in Wording.</summary>
internal abstract record OfferReason;

/// <summary>A dominant with a raised fifth, with its seventh or without, before the tonic.</summary>
internal sealed record RaisedFifth(bool HasSeventh) : OfferReason;

/// <summary>A seventh chord that leads to the chord that follows, or its triad.</summary>
internal sealed record LeadsOn(LeadingChord Chord) : OfferReason
{
    /// <summary>Whether it has its seventh.</summary>
    public bool HasSeventh { get; init; } = true;
}

/// <summary>The chord keeps the root of the one that follows.</summary>
internal sealed record KeepsRoot : OfferReason;

/// <summary>A chord of the key that does what the one that stands there does.</summary>
internal sealed record SameFunction : OfferReason;

/// <summary>A dominant of the key before the tonic that follows.</summary>
internal sealed record DominantOfTonic : OfferReason;

/// <summary>A chord of the key before the dominant that follows.</summary>
internal sealed record PreparesDominant : OfferReason;

/// <summary>A triad a third from a neighbour.</summary>
/// <param name="Neighbour">The neighbour.</param>
/// <param name="IsSameQuality">Whether it has the neighbour's quality, and so a tone in common.</param>
internal sealed record ThirdFrom(Theory.Numeral Neighbour, bool IsSameQuality) : OfferReason;

/// <summary>A chord of the parallel key.</summary>
internal sealed record Borrowed(BorrowedUse Use) : OfferReason;

/// <summary>The Neapolitan sixth before the dominant.</summary>
internal sealed record NeapolitanBefore : OfferReason;

/// <summary>An augmented sixth before the dominant.</summary>
/// <param name="Name">Italian, French or German.</param>
/// <param name="OpensToOctave">Whether the fifth degree is in the bass of the chord that follows.</param>
internal sealed record SixthBefore(string Name, bool OpensToOctave) : OfferReason;

/// <summary>The dominant seventh a semitone above what follows.</summary>
internal sealed record TritoneOfDominant : OfferReason;

/// <summary>The plain chord of the key behind the coloured one that stands there.</summary>
internal sealed record PlainBehind : OfferReason;

/// <summary>A chord of the music that was learned from, as whatever it is found to be at the place.</summary>
internal sealed record InVocabulary : OfferReason;

/// <summary>Which seventh chord leads on.</summary>
internal enum LeadingChord
{
    Dominant,
    Diminished,
    HalfDiminished,
}

/// <summary>What a borrowed chord does.</summary>
internal enum BorrowedUse
{
    StandsFor,
    Prepares,
    Leads,
}
