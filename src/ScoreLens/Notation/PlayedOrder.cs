using System.Globalization;

namespace ScoreLens.Notation;

/// <summary>
/// The measures in the order in which they are played: repeats with their endings taken. Da capo and dal segno are not: what is
/// played on such a return is the conductor's choice as often as not.
/// </summary>
internal static class PlayedOrder
{
    // A repeat is played ten times at most, so that a damaged file ends.
    private const int MostTimes = 10;

    /// <summary>Indices of the measures.</summary>
    public static IReadOnlyList<int> Of(IReadOnlyList<Measure> measures)
    {
        var order = new List<int>(measures.Count);
        int start = 0, pass = 1, furthest = -1;
        for (var i = 0; i < measures.Count;)
        {
            var measure = measures[i];
            var isNew = i > furthest;
            furthest = Math.Max(furthest, i);
            if (isNew && (measure.StartsRepeat || (i > 0 && measures[i - 1].Movement != measure.Movement))) (start, pass) = (i, 1);
            var endings = Numbers(measure.Ending);
            if (endings.Length > 0 && !endings.Contains(pass))
            {
                i++;
                continue;
            }

            order.Add(i);
            var times = endings.Length > 0 ? endings.Max() + 1 : measure.PlayedTimes;
            if (measure.PlayedTimes > 1 && pass < Math.Min(times, MostTimes))
            {
                pass++;
                i = start;
                continue;
            }

            i++;
            var leavesEnding = measure.Ending.Length > 0 && (i == measures.Count || measures[i].Ending.Length == 0);
            if ((measure.PlayedTimes > 1 && measure.Ending.Length == 0) || leavesEnding) (start, pass) = (i, 1);
        }

        return order;
    }

    private static int[] Numbers(string ending) =>
    [
        .. ending.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries)
            .Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).Where(n => n > 0),
    ];
}
