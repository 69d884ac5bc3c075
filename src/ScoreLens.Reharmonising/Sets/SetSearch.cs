using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Sets;

/// <summary>
/// Finds the set of alternatives that brings a passage to a share of colour with few and good changes: dynamic programming over its chords,
/// where what counts of those before is the time outside the key and whether the last one changes. Chords that make a cadence stay, and two
/// chords that follow each other change only where nothing else will do, since each is offered for the neighbours that it has. The set is
/// written and read again; what
/// is lost with the others in the score is left out, and the search goes on.
/// </summary>
/// <param name="analysis">The score.</param>
/// <param name="reharmoniser">What is offered in it.</param>
/// <param name="band">The band that is wanted.</param>
public sealed class SetSearch(CueAnalysis analysis, Reharmoniser reharmoniser, Band band)
{
    // Offers of a chord that are weighed, rounds of writing and reading again, what a change costs beside a worse offer, and what two
    // cost that follow each other; the points by which colour is raised or lowered inside the band.
    private const int OffersOfChord = 8, Rounds = 12;
    private const double Change = 1.05, Neighbours = 0.3;

    private static readonly Fraction LeastStep = new(1, 20), MostStep = new(3, 20);

    /// <summary>The best set for a passage.</summary>
    /// <param name="start">Where it begins, in quarter notes.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="wish">What is wanted.</param>
    public ChosenSet Find(Fraction start, Fraction end, ColourWish wish)
    {
        var before = Shares.Between(analysis.Chords, start, end);
        var goal = Goal(before.OutsideTime, wish);
        var best = new ChosenSet([], goal, before.OutsideTime, before.OutsideTime);
        if (best.IsReached || before.Quarters.Sign == 0) return best;
        var chords = analysis.Chords.Index().Where(c => c.Item.Reading.Onset < end && c.Item.Reading.End > start
            && c.Item.Reading.Numeral is not null).ToArray();
        var offers = chords.AsParallel().AsOrdered().Select(c => IsFree(c.Index, start, end)
            ? reharmoniser.List(c.Index, OfferOrder.Best, OffersOfChord, wanted: IsTaken).Alternatives.Where(IsTaken).ToArray()
            : []).ToArray();
        // Where colour is wanted a chord of the key does not help, and the other way round.
        bool IsTaken(Alternative alternative) => alternative.IsKept && alternative.GoesOn
            && (before.OutsideTime < goal.Low ? alternative.Device is not null : alternative.Device is null);

        var lost = new HashSet<(int, Numeral)>();
        Fraction shift = default;
        for (var round = 0; round < Rounds; round++)
        {
            var places = chords.Select((c, i) => new Place(c.Index, TimeIn(c.Item, start, end), c.Item.Device is not null,
                [.. offers[i].Where(a => !lost.Contains((c.Index, a.Numeral)))])).ToArray();
            var (choices, expected) = Choose(places, before.Quarters, goal, shift);
            if (choices.Count == 0) break;
            var written = reharmoniser.TogetherNearby(choices);
            if (!written.IsPossible)
            {
                // Chords that follow each other stand in each other's way: the worst of them goes.
                var worst = choices.Where(c => choices.Any(o => Math.Abs(o.Index - c.Index) == 1)).DefaultIfEmpty(choices[0])
                    .MinBy(c => c.Alternative.Score)!;
                lost.Add((worst.Index, worst.Alternative.Numeral));
                continue;
            }

            // What lies about the choices is read first, and the whole score where that promises something.
            var after = best.After;
            if (written.Choices.All(c => c.Alternative.IsKept))
            {
                var whole = CueAnalysis.Of(written.Written, analysis.Keys, HarmonySource.Notes);
                (written, after) = (written.ReadIn(whole), Shares.Between(whole.Chords, start, end).OutsideTime);
                if (written.Choices.All(c => c.Alternative.IsKept))
                {
                    if (Distance(goal, after) < Distance(goal, best.After)) best = best with { Choices = written.Choices, After = after };
                    if (best.IsReached) break;
                    // It is aimed higher or lower by what was missed.
                    shift += expected - after;
                }
            }

            // What the reader hears otherwise with the others about it is left out.
            foreach (var choice in written.Choices.Where(c => !c.Alternative.IsKept)) lost.Add((choice.Index, choice.Alternative.Numeral));
        }

        return best;
    }

    private Band Goal(Fraction share, ColourWish wish) => (wish, band.Judge(share)) switch
    {
        (ColourWish.IntoBand, _) or (ColourWish.More, Verdict.Below) or (ColourWish.Less, Verdict.Above) => band,
        (ColourWish.More, _) => new Band(Fraction.Min(1, share + LeastStep), Fraction.Min(1, share + MostStep)),
        _ => new Band(Fraction.Max(0, share - MostStep), Fraction.Max(0, share - LeastStep)),
    };

    // Not what a phrase closes with: the last chord of a half cadence, the last two of others; nor what lies over an edge of the passage.
    private bool IsFree(int index, Fraction start, Fraction end)
    {
        var reading = analysis.Chords[index].Reading;
        if (reading.Onset < start || reading.End > end) return false;
        var phrase = analysis.Phrases.FirstOrDefault(p => p.Start <= reading.Onset && reading.Onset < p.End);
        if (phrase is null || phrase.Cadence == Cadence.None) return true;
        var after = analysis.Chords.Skip(index + 1).TakeWhile(c => c.Reading.Onset < phrase.End).Count(c => c.Reading.Numeral is not null);
        return after >= (phrase.Cadence == Cadence.Half ? 1 : 2);
    }

    private static Fraction TimeIn(TaggedChord chord, Fraction start, Fraction end) =>
        Fraction.Min(end, chord.Reading.End) - Fraction.Max(start, chord.Reading.Onset);

    private static (IReadOnlyList<Choice> Choices, Fraction Expected) Choose(IReadOnlyList<Place> places, Fraction quarters, Band goal,
        Fraction shift)
    {
        var ways = new Dictionary<(Fraction Outside, bool Changed), Way> { [(0, false)] = new Way(null, null, 0) };
        foreach (var place in places)
        {
            var next = new Dictionary<(Fraction, bool), Way>();
            foreach (var ((outside, changed), way) in ways)
            {
                Add(next, (outside + (place.IsOutside ? place.Time : 0), false), new Way(way, null, way.Score));
                foreach (var offer in place.Offers)
                    Add(next, (outside + (offer.Device is null ? 0 : place.Time), true),
                        new Way(way, new Choice(place.Index, offer), way.Score + offer.Score - Change - (changed ? Neighbours : 0)));
            }

            ways = next;
        }

        var (end, found) = ways.OrderBy(w => Distance(goal, (w.Key.Outside / quarters) - shift)).ThenByDescending(w =>
            w.Value.Score).First();
        var choices = new List<Choice>();
        for (var way = found; way is not null; way = way.Before)
            if (way.Choice is { } choice) choices.Insert(0, choice);
        return (choices, end.Outside / quarters);
    }

    private static void Add(Dictionary<(Fraction, bool), Way> ways, (Fraction, bool) state, Way way)
    {
        if (!ways.TryGetValue(state, out var other) || other.Score < way.Score) ways[state] = way;
    }

    private static double Distance(Band goal, Fraction share) =>
        share < goal.Low ? (goal.Low - share).ToDouble() : share > goal.High ? (share - goal.High).ToDouble() : 0;

    /// <summary>A chord of the passage with what is offered for it.</summary>
    private sealed record Place(int Index, Fraction Time, bool IsOutside, IReadOnlyList<Alternative> Offers);

    private sealed record Way(Way? Before, Choice? Choice, double Score);
}
