using ScoreLens.Devices;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Sets;

/// <summary>Finds the changes from which a set for a passage can be made.</summary>
/// <param name="reharmoniser">What is offered in the score.</param>
/// <param name="start">Where the passage begins, in quarter notes.</param>
/// <param name="end">Where it ends.</param>
/// <param name="order">What decides between offers.</param>
/// <param name="isTaken">Which offers help.</param>
internal sealed class ChangeFinder(Reharmoniser reharmoniser, Fraction start, Fraction end, OfferOrder order,
    Func<Alternative, bool> isTaken)
{
    // Offers that are weighed: of a chord, of a divided chord or several as one, of a chord beside one that is chosen; and so many of
    // those are tried at a chord.
    private const int OffersOfChord = 8, OffersOfSpan = 3, OffersBeside = 2, Chosen = 2;

    // What a change costs beside a worse offer: few are better than many, two that were offered for each other hardly more than one, and
    // another harmonic rhythm something.
    private const double Cost = 1.05, CostOfPair = 1.75, OtherRhythm = 0.15;

    // A chord is divided from two quarter notes on; chords are joined up to one each.
    private const int LeastDivided = 2, MostJoined = 1;

    private readonly CueAnalysis _analysis = reharmoniser.Analysis;
    private readonly Dictionary<int, Alternative[]> _offers = [];

    /// <summary>Another chord for each chord that does not make a cadence.</summary>
    public IReadOnlyList<Change> Singles()
    {
        foreach (var (index, offers) in reharmoniser.Map(Free(), i => (i, Offers(reharmoniser, i, OffersOfChord))))
            _offers[index] = offers;
        return [.. _offers.SelectMany(o => o.Value.Select(a => new Change(o.Key, o.Key, [(SpanOf(_analysis, o.Key), a)],
            OutsideTime(a, SpanOf(_analysis, o.Key)), Value(a) - Cost)))];
    }

    /// <summary>Another chord in the second part of a long chord, and one for two short ones.</summary>
    public IReadOnlyList<Change> OtherRhythms()
    {
        var free = Free().ToHashSet();
        var spans = free.SelectMany(Divided).Concat(free.Where(i => free.Contains(i + 1)).SelectMany(Joined)).ToArray();
        return [.. reharmoniser.Map(spans, s => For(s.First, s.Last, s.Span).ToArray()).SelectMany(c => c)];
    }

    /// <summary>Chords that are offered with a chosen one after them: chains of dominants, a dominant with what prepares it.</summary>
    public IReadOnlyList<Change> Pairs()
    {
        var free = Free().ToHashSet();
        var beside = free.Where(i => free.Contains(i - 1) && _offers.ContainsKey(i))
            .SelectMany(i => _offers[i].Take(Chosen).Select(a => new Choice(i, a))).ToArray();
        return [.. reharmoniser.Map(beside, c => Before(c).ToArray()).SelectMany(c => c)];
    }

    private IEnumerable<Change> Before(Choice after)
    {
        var (index, last) = (after.Index - 1, SpanOf(_analysis, after.Index));
        var span = SpanOf(_analysis, index);
        var known = _offers.GetValueOrDefault(index, []).Select(a => a.Numeral).ToHashSet();
        foreach (var offer in Offers(reharmoniser.Beside(after), index, OffersBeside))
        {
            yield return new Change(index, after.Index, [(span, offer with { Rank = 0 }), (last, after.Alternative)],
                OutsideTime(offer, span) + OutsideTime(after.Alternative, last), Value(offer) + Value(after.Alternative) - CostOfPair
                - (known.Contains(offer.Numeral) ? OtherRhythm : 0));
        }
    }

    private IEnumerable<Change> For(int first, int last, ChordSpan span)
    {
        var over = reharmoniser.Over([span]);
        var index = over.Analysis.Chords.Index().First(c => c.Item.Reading.Onset == span.Start).Index;
        if (!over.HasRoom(index)) yield break;
        var rest = _analysis.Chords[first] is { Device: not null } before ? span.Start - Fraction.Max(start, before.Reading.Onset) : 0;
        // What divides a chord leads on: it is there for what follows.
        foreach (var offer in Offers(over, index, OffersOfSpan, a => first < last || a.Device is null
            || a.Resolution == Resolution.Resolved))
            yield return new Change(first, last, [(span, offer)], rest + OutsideTime(offer, span), Value(offer) - Cost - OtherRhythm);
    }

    private IEnumerable<(int First, int Last, ChordSpan Span)> Divided(int index)
    {
        var (onset, end, length) = (Reading(index).Onset, Reading(index).End, Reading(index).Duration);
        if (length < LeastDivided) yield break;
        // On a beat: the half, or the last third of three; and the last quarter note.
        var half = length.Denominator == 1 && length.Numerator % 2 == 0 ? length / 2 : length.Denominator == 1 && length.Numerator % 3 == 0
            ? length / 3 : (Fraction)1;
        foreach (var part in new[] { half, 1 }.Distinct()) yield return (index, index, new ChordSpan(end - part, end));
    }

    private IEnumerable<(int First, int Last, ChordSpan Span)> Joined(int index)
    {
        var (first, second) = (Reading(index), Reading(index + 1));
        if (first.Duration <= MostJoined && second.Duration <= MostJoined && first.End == second.Onset && first.Key == second.Key
            && PhraseAt(first.Onset) == PhraseAt(second.Onset))
            yield return (index, index + 1, new ChordSpan(first.Onset, second.End));
    }

    private Alternative[] Offers(Reharmoniser from, int index, int most, Func<Alternative, bool>? wanted = null)
    {
        return [.. from.List(index, order, most, wanted: IsWanted).Alternatives.Where(IsWanted)];

        bool IsWanted(Alternative alternative) => alternative is { IsKept: true, GoesOn: true } && isTaken(alternative)
            && wanted?.Invoke(alternative) != false;
    }

    private double Value(Alternative alternative) => order switch
    {
        OfferOrder.Experts => Ranking.Often(alternative.Experts),
        OfferOrder.Smoothness => Ranking.Smooth(alternative.Semitones / 2.0),
        _ => alternative.Score,
    };

    private static Fraction OutsideTime(Alternative alternative, ChordSpan span) => alternative.Device is null ? 0 : span.End - span.Start;

    private ChordReading Reading(int index) => _analysis.Chords[index].Reading;

    private static ChordSpan SpanOf(CueAnalysis analysis, int index) =>
        new(analysis.Chords[index].Reading.Onset, analysis.Chords[index].Reading.End);

    private Phrase? PhraseAt(Fraction onset) => _analysis.Phrases.FirstOrDefault(p => p.Start <= onset && onset < p.End);

    private IEnumerable<int> Free() => _analysis.Chords.Index().Where(c => c.Item.Reading.Onset < end && c.Item.Reading.End > start
        && c.Item.Reading.Numeral is not null && IsFree(c.Index)).Select(c => c.Index);

    // Not what a phrase closes with: the last chord of a half cadence, the last two of others; nor what lies over an edge of the passage.
    private bool IsFree(int index)
    {
        var reading = Reading(index);
        if (reading.Onset < start || reading.End > end) return false;
        if (PhraseAt(reading.Onset) is not { } phrase || phrase.Cadence == Cadence.None) return true;
        var after = _analysis.Chords.Skip(index + 1).TakeWhile(c => c.Reading.Onset < phrase.End).Count(c => c.Reading.Numeral is not null);
        return after >= (phrase.Cadence == Cadence.Half ? 1 : 2);
    }
}
