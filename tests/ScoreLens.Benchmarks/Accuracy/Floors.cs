using System.Globalization;

namespace ScoreLens.Benchmarks;

/// <summary>Least figures that a run must reach, each as <c>REPERTOIRE:FIELD=SHARE</c>.</summary>
internal static class Floors
{
    /// <summary>Prints whether each floor holds, and gives whether one is missed or names no figure.</summary>
    /// <param name="floors">The floors.</param>
    /// <param name="figure">The figure of a repertoire and field; null where there is none.</param>
    public static bool AreMissed(IEnumerable<string> floors, Func<string, string, double?> figure)
    {
        var missed = false;
        foreach (var floor in floors)
        {
            if (floor.Split(':', '=') is not [var repertoire, var field, var text]
                || !double.TryParse(text, CultureInfo.InvariantCulture, out var least)
                || figure(repertoire, field) is not { } reached)
            {
                Console.WriteLine($"FAILED floor {floor}: no such figure");
                missed = true;
                continue;
            }

            missed |= reached < least;
            var verdict = reached >= least ? "holds" : "FAILED";
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{verdict} floor {floor}: {reached:0.000}"));
        }

        return missed;
    }
}
