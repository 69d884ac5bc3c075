using System.Globalization;

namespace ScoreLens.Notation;

/// <summary>
/// The measures in the order in which they are played: repeats with their endings, da capo, dal segno, fine and coda. After a return no
/// section is repeated and the last ending is taken, as is usual (common practice).
/// </summary>
internal sealed class PlayedOrder
{
    // A repeat is played ten times at most, so that a damaged file ends.
    private const int MostTimes = 10;

    private readonly IReadOnlyList<Measure> _measures;
    private readonly List<int> _order;
    private readonly List<string> _problems = [];

    private PlayedOrder(IReadOnlyList<Measure> measures)
    {
        _measures = measures;
        _order = new List<int>(measures.Count);
        foreach (var movement in measures.Select((m, i) => (m.Movement, Index: i)).GroupBy(m => m.Movement, m => m.Index))
        {
            var (first, last) = (movement.First(), movement.Last());
            Play(first, last, Roads(first, last));
        }
    }

    /// <summary>Indices of the measures, in the order in which they are played.</summary>
    public IReadOnlyList<int> Measures => _order;

    /// <summary>What could not be followed, and measures that are never reached, as phrases without a full stop; mostly none.</summary>
    public IReadOnlyList<string> Problems => _problems;

    /// <summary>The order of a score's measures.</summary>
    public static PlayedOrder Of(IReadOnlyList<Measure> measures) => new(measures);

    private void Play(int first, int last, RoadSigns[] roads)
    {
        var played = _order.Count;
        var taken = new HashSet<int>();
        var way = Way.First;
        int start = first, pass = 1, furthest = first - 1;
        for (var i = first; i <= last;)
        {
            var measure = _measures[i];
            var road = roads[i - first];
            var isNew = i > furthest;
            furthest = Math.Max(furthest, i);
            if (isNew && (measure.StartsRepeat || i == first)) (start, pass) = (i, 1);
            var endings = Numbers(measure.Ending);
            if (endings.Length > 0 && !endings.Contains(way == Way.First ? pass : LastPass(i)))
            {
                i++;
                continue;
            }

            _order.Add(i);
            var times = endings.Length > 0 ? endings.Max() + 1 : measure.PlayedTimes;
            if (way == Way.First && measure.PlayedTimes > 1 && pass < Math.Min(times, MostTimes))
            {
                pass++;
                i = start;
                continue;
            }

            if (way is Way.ToFine && road.Fine) break;
            if (way is Way.ToCoda && road.ToCoda && Find(roads, i - first + 1, r => r.Coda) is { } coda)
            {
                i = first + coda;
                (way, start, pass) = (Way.First, i, 1);
                continue;
            }

            if (way == Way.First && road.GoesBack && taken.Add(i) && Back(roads, first, i) is { } back)
            {
                (i, way) = back;
                continue;
            }

            i++;
            var leavesEnding = measure.Ending.Length > 0 && (i > last || _measures[i].Ending.Length == 0);
            if ((measure.PlayedTimes > 1 && measure.Ending.Length == 0) || leavesEnding) (start, pass) = (i, 1);
        }

        // Endings for a pass that does not come are not worth a word; what a return cuts off is.
        if (taken.Count == 0) return;
        var reached = _order.Skip(played).ToHashSet();
        var left = Enumerable.Range(first, last - first + 1).Where(i => !reached.Contains(i) && _measures[i].Ending.Length == 0).ToList();
        if (left.Count > 0)
            _problems.Add($"{Place(left[0], left[^1])}: not reached, so no time is given");
    }

    // Where a return leads and what it looks for there; null where the score does not say, which is a problem.
    private (int To, Way Way)? Back(RoadSigns[] roads, int first, int from)
    {
        var at = from - first;
        var road = roads[at];
        var name = road.DaCapo ? "da capo" : "dal segno";
        int? to = road.DaCapo ? 0 : Enumerable.Range(0, at + 1).Where(i => roads[i].Segno).Select(i => (int?)i).LastOrDefault();
        if (to is not { } target)
        {
            _problems.Add($"{Place(from)}: {name} is not followed, as there is no segno before it");
            return null;
        }

        var hasFine = Enumerable.Range(target, at - target + 1).Any(i => roads[i].Fine);
        var leaves = Enumerable.Range(target, at - target + 1).Where(i => roads[i].ToCoda).Select(i => (int?)i).FirstOrDefault();
        var hasCoda = leaves is { } leave && Find(roads, leave + 1, r => r.Coda) is not null;
        if (hasCoda && !road.AlFine) return (first + target, Way.ToCoda);
        if (hasFine && !road.AlCoda) return (first + target, Way.ToFine);
        _problems.Add($"{Place(from)}: {name} is not followed, as there is "
            + (road.AlFine ? "no fine" : road.AlCoda ? "no coda or no place to leave for it" : "neither a fine nor a coda"));
        return null;
    }

    // The signs of a movement; of coda signs that do not say which they are, the first leaves and the next begins the coda.
    private RoadSigns[] Roads(int first, int last)
    {
        var roads = Enumerable.Range(first, last - first + 1).Select(i => _measures[i].Roads).ToArray();
        var leaves = roads.Any(r => r.ToCoda);
        for (var i = 0; i < roads.Length; i++)
        {
            if (!roads[i].CodaSign) continue;
            roads[i] = leaves ? roads[i] with { Coda = true } : roads[i] with { ToCoda = true };
            leaves = true;
        }

        return roads;
    }

    // The highest number among the endings side by side that a measure belongs to.
    private int LastPass(int index)
    {
        var (low, high) = (index, index);
        while (low > 0 && _measures[low - 1].Ending.Length > 0) low--;
        while (high + 1 < _measures.Count && _measures[high + 1].Ending.Length > 0) high++;
        return Enumerable.Range(low, high - low + 1).SelectMany(i => Numbers(_measures[i].Ending)).DefaultIfEmpty(1).Max();
    }

    private string Place(int index, int? last = null)
    {
        var measure = _measures[index];
        return (_measures[^1].Movement > 1 ? $"movement {measure.Movement}, " : "")
            + (last is { } end && end != index ? $"measures {measure.Number} to {_measures[end].Number}" : $"measure {measure.Number}");
    }

    private static int? Find(RoadSigns[] roads, int from, Func<RoadSigns, bool> wanted) =>
        Enumerable.Range(from, Math.Max(0, roads.Length - from)).Where(i => wanted(roads[i])).Select(i => (int?)i).FirstOrDefault();

    private static int[] Numbers(string ending) =>
    [
        .. ending.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries)
            .Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).Where(n => n > 0),
    ];

    // The first time through, or after a return on the way to the fine or to the coda.
    private enum Way
    {
        First,
        ToFine,
        ToCoda,
    }
}
