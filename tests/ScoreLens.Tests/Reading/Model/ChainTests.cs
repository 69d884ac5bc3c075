using ScoreLens.Reading.Search;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>Paths and probabilities against a count of every path that there is.</summary>
public class ChainTests
{
    private const int Steps = 5;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Every_path_counted_gives_the_same_path_and_the_same_probabilities(int seed)
    {
        // Of every step some states of the one before, in another order, and new ones.
        var numbers = new Numbers(seed);
        int[] sizes = [.. Enumerable.Range(0, Steps).Select(_ => 1 + numbers.Below(4))];
        int[] starts = [0, .. sizes.Select((_, t) => sizes[..(t + 1)].Sum())];
        int[] stays = [.. sizes.SelectMany((size, t) => Enumerable.Range(0, size)
            .Select(j => t > 0 && j % 2 == 0 && j < sizes[t - 1] ? sizes[t - 1] - 1 - j : -1))];
        double[] evidence = [.. numbers.Next(starts[^1], 6)];
        (double, double)[] transitions = [.. Enumerable.Range(0, Steps).Select(t => (-0.1 * t, -1.5))];
        var chain = new Chain(starts, evidence, stays, transitions);

        var best = chain.BestPath(0.7);
        var shares = chain.Marginals(0.4, 0.8);

        var paths = Paths(sizes).ToArray();
        Assert.Equal(paths.MaxBy(path => Weight(path, 0.7, 1)), best);
        Assert.Equal(paths.MaxBy(path => Weight(path, 0.7, 1)), chain.BestPath(0.7));
        var all = paths.Sum(path => Math.Exp(Weight(path, 0.4, 0.8)));
        for (var t = 0; t < Steps; t++)
        {
            for (var j = 0; j < sizes[t]; j++)
                Assert.Equal(paths.Where(path => path[t] == j).Sum(path => Math.Exp(Weight(path, 0.4, 0.8))) / all, shares[starts[t] + j],
                    1e-12);
        }

        double Weight(int[] path, double evidenceWeight, double transitionWeight)
        {
            var sum = evidenceWeight * evidence[path[0]];
            for (var t = 1; t < Steps; t++)
            {
                var at = starts[t] + path[t];
                sum += (evidenceWeight * evidence[at]) + (transitionWeight * (stays[at] == path[t - 1] ? transitions[t].Item1
                    : transitions[t].Item2));
            }

            return sum;
        }
    }

    [Fact]
    public void Of_equal_paths_the_first_is_best()
    {
        var chain = new Chain([0, 2, 4], new double[4], [-1, -1, -1, -1], [(0, 0), (0, 0)]);

        Assert.Equal([0, 0], chain.BestPath(1));
        Every.Item(chain.Marginals(1, 1), share => Assert.Equal(0.5, share));
    }

    private static IEnumerable<int[]> Paths(int[] sizes) =>
        sizes.Length == 0 ? [[]] : Paths(sizes[..^1]).SelectMany(path => Enumerable.Range(0, sizes[^1]).Select(j => (int[])[.. path, j]));
}
