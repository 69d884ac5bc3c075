namespace ScoreLens.Reharmonising;

/// <summary>What is offered for a chord.</summary>
/// <param name="Alternatives">The alternatives in the order that was asked for.</param>
/// <param name="Otherwise">How many were found that would be read as another chord where they are written.</param>
/// <param name="Unread">How many more there are, of which some may be read as another chord too.</param>
/// <param name="HasRare">Whether chords that are rare at such places are still to come after these.</param>
public sealed record OfferList(IReadOnlyList<Alternative> Alternatives, int Otherwise, int Unread, bool HasRare = false);
