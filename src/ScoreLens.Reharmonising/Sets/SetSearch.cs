using ScoreLens.Density;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising.Sets;

/// <summary>
/// Finds the set of changes that brings a passage to a share of colour with few and good ones: dynamic programming over its chords, where
/// what counts of those before is the time outside the key and whether the last one changes. Chords that make a cadence stay. Two chords
/// that follow each other change only where nothing else will do, or where each was offered with the other beside it. The set is written
/// and read again; what is lost with the others in the score is left out, and the search goes on. Where other chords alone do not bring
/// the passage there, long chords are divided, short ones joined, and chords offered for each other.
/// </summary>
/// <param name="reharmoniser">What is offered in the score.</param>
/// <param name="band">The band that is wanted.</param>
/// <param name="order">What decides between sets that reach it: how good their offers are, what experts have, how smoothly they go; or
/// the dose, which looks for the middle of the band.</param>
public sealed class SetSearch(Reharmoniser reharmoniser, Band band, OfferOrder order = OfferOrder.Best)
{
    // Rounds of writing and reading again with one kind of changes, and what two cost that follow each other.
    private const int Rounds = 12;
    private const double Neighbours = 0.3;

    // The points by which colour is raised or lowered inside the band.
    private static readonly Fraction LeastStep = new(1, 20), MostStep = new(3, 20);

    private readonly CueAnalysis _analysis = reharmoniser.Analysis;

    /// <summary>The best set for a passage.</summary>
    /// <param name="start">Where it begins, in quarter notes.</param>
    /// <param name="end">Where it ends.</param>
    /// <param name="wish">What is wanted.</param>
    public ChosenSet Find(Fraction start, Fraction end, ColourWish wish)
    {
        var before = Shares.Between(_analysis.Chords, start, end);
        var goal = Goal(before.OutsideTime, wish);
        var best = new ChosenSet(_analysis, [], goal, before.OutsideTime, before.OutsideTime);
        if (best.IsReached || before.Quarters.Sign == 0) return best;
        // Where colour is wanted a chord of the key does not help, and the other way round.
        var finder = new ChangeFinder(reharmoniser, start, end, order, a =>
            before.OutsideTime < goal.Low ? a.Device is not null : a.Device is null);
        var changes = new List<Change>();
        foreach (var more in (Func<IReadOnlyList<Change>>[])[finder.Singles, finder.OtherRhythms, finder.Pairs])
        {
            var found = more();
            if (found.Count == 0) continue;
            changes.AddRange(found);
            best = Search(changes, start, end, before.Quarters, best);
            if (best.IsReached) break;
        }

        return best;
    }

    private ChosenSet Search(IReadOnlyList<Change> changes, Fraction start, Fraction end, Fraction quarters, ChosenSet best)
    {
        var goal = best.Goal;
        var lost = new HashSet<Change>();
        Fraction shift = default;
        for (var round = 0; round < Rounds; round++)
        {
            var (chosen, expected) = Choose([.. changes.Where(c => !lost.Contains(c))], start, end, quarters, goal, shift);
            if (chosen.Count == 0) break;
            var (over, choices) = Regrouped(chosen);
            var written = over.TogetherNearby(choices);
            if (!written.IsPossible)
            {
                // Chords that follow each other stand in each other's way: the worst of them goes.
                lost.Add(chosen.Where(c => chosen.Any(o => o != c && (o.Last == c.First - 1 || o.First == c.Last + 1)))
                    .DefaultIfEmpty(chosen[0]).MinBy(c => c.Score)!);
                continue;
            }

            // What lies about the choices is read first, and the whole score where that promises something.
            if (written.Choices.All(c => c.Alternative.IsKept))
            {
                var whole = reharmoniser.Read(written.Written);
                written = written.ReadIn(whole);
                var after = Shares.Between(whole.Chords, start, end).OutsideTime;
                if (written.Choices.All(c => c.Alternative.IsKept))
                {
                    if (Distance(goal, after) < Distance(goal, best.After))
                        best = best with { Analysis = over.Analysis, Choices = written.Choices, After = after };
                    if (best.IsReached) break;
                    // It is aimed higher or lower by what was missed.
                    shift += expected - after;
                }
            }

            // What the reader hears otherwise with the others about it is left out.
            var spans = written.Choices.Where(c => !c.Alternative.IsKept).Select(c => c.Alternative.Rewriting.Start).ToHashSet();
            foreach (var change in chosen.Where(c => c.Chords.Any(o => spans.Contains(o.Span.Start)))) lost.Add(change);
        }

        return best;
    }

    // The choices by their places among the chords, with the borders that the changes ask for.
    private (Reharmoniser Over, Choice[] Choices) Regrouped(IReadOnlyList<Change> changes)
    {
        var chords = changes.SelectMany(c => c.Chords).ToArray();
        var own = _analysis.Chords.Select(c => new ChordSpan(c.Reading.Onset, c.Reading.End)).ToHashSet();
        var over = reharmoniser.Over([.. chords.Select(c => c.Span).Where(s => !own.Contains(s))]);
        var places = over.Analysis.Chords.Index().ToDictionary(c => c.Item.Reading.Onset, c => c.Index);
        return (over, [.. chords.Select(c => new Choice(places[c.Span.Start], c.Alternative))]);
    }

    private Band Goal(Fraction share, ColourWish wish) => (wish, band.Judge(share)) switch
    {
        (ColourWish.IntoBand, _) or (ColourWish.More, Verdict.Below) or (ColourWish.Less, Verdict.Above) => band,
        (ColourWish.More, _) => new Band(Fraction.Min(1, share + LeastStep), Fraction.Min(1, share + MostStep)),
        _ => new Band(Fraction.Max(0, share - MostStep), Fraction.Max(0, share - LeastStep)),
    };

    private (IReadOnlyList<Change> Changes, Fraction Expected) Choose(IReadOnlyList<Change> changes, Fraction start, Fraction end,
        Fraction quarters, Band goal, Fraction shift)
    {
        int[] passage = [.. _analysis.Chords.Index().Where(c => c.Item.Reading.Onset < end && c.Item.Reading.End > start
            && c.Item.Reading.Numeral is not null).Select(c => c.Index)];
        if (passage.Length == 0) return ([], 0);
        var byFirst = changes.ToLookup(c => c.First);
        var ways = new Dictionary<int, Dictionary<(Fraction Outside, bool Changed), Way>>
        {
            [passage[0]] = new() { [(0, false)] = new(null, null, 0) },
        };
        var next = new Dictionary<int, int>();
        for (var i = 0; i < passage.Length; i++) next[passage[i]] = i + 1 < passage.Length ? passage[i + 1] : int.MaxValue;
        foreach (var index in passage)
        {
            if (!ways.Remove(index, out var here)) continue;
            var chord = _analysis.Chords[index];
            var time = chord.Device is null ? 0 : Fraction.Min(end, chord.Reading.End) - Fraction.Max(start, chord.Reading.Onset);
            foreach (var ((outside, changed), way) in here)
            {
                Add(next[index], (outside + time, false), new Way(way, null, way.Score));
                foreach (var change in byFirst[index])
                    Add(next[change.Last], (outside + change.Outside, true), new Way(way, change, way.Score + change.Score
                        - (changed ? Neighbours : 0)));
            }
        }

        var aim = order == OfferOrder.Dose ? new Band((goal.Low + goal.High) / 2, (goal.Low + goal.High) / 2) : goal;
        var (reached, found) = ways[int.MaxValue].OrderBy(w => Distance(aim, (w.Key.Outside / quarters) - shift))
            .ThenByDescending(w => w.Value.Score).First();
        var chosen = new List<Change>();
        for (var way = found; way is not null; way = way.Before)
            if (way.Change is { } change) chosen.Insert(0, change);
        return (chosen, reached.Outside / quarters);

        void Add(int place, (Fraction, bool) state, Way way)
        {
            if (!ways.TryGetValue(place, out var there)) ways[place] = there = [];
            if (!there.TryGetValue(state, out var other) || other.Score < way.Score) there[state] = way;
        }
    }

    private static double Distance(Band goal, Fraction share) =>
        share < goal.Low ? (goal.Low - share).ToDouble() : share > goal.High ? (share - goal.High).ToDouble() : 0;

    private sealed record Way(Way? Before, Change? Change, double Score);
}
