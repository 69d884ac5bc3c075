using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Sets;

/// <summary>
/// One change to a passage: another chord for a chord, in the second half of one or for several together; or two chords that follow each
/// other, each offered with the other beside it.
/// </summary>
/// <param name="First">The first of the analysis's chords that it is for.</param>
/// <param name="Last">The last.</param>
/// <param name="Chords">The new chords by onset, each with the span that it takes.</param>
/// <param name="Outside">Time of these chords outside the key with the change, in quarter notes.</param>
/// <param name="Score">How good it is, the more the better; a change costs something, however good it is.</param>
internal sealed record Change(int First, int Last, IReadOnlyList<(ChordSpan Span, Alternative Alternative)> Chords, Fraction Outside,
    double Score);
