using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A chain of states over verticals: log evidence for every state, and two log transitions a step, for staying and for
/// changing. Gives the best path and the probability of every state.
/// </summary>
/// <param name="sizes">Number of states at every step.</param>
/// <param name="evidence">Log evidence of every state at every step.</param>
/// <param name="kind">For a step and a state before and after it: 0 where the state stays, 1 where it changes.</param>
/// <param name="transitions">Log weights of staying and of changing into a step.</param>
internal sealed class Chain(int[] sizes, double[][] evidence, Func<int, int, int, int> kind, Func<int, (double Same, double Change)> transitions)
{
    /// <summary>The best path, with the evidence weighed.</summary>
    public int[] BestPath(double weight)
    {
        var back = new int[sizes.Length][];
        var value = Weighed(0, weight);
        for (var t = 1; t < sizes.Length; t++)
        {
            var (same, change) = transitions(t);
            // All changes cost alike, so the best state before serves every state; only staying must be looked at apart.
            var top = TensorPrimitives.IndexOfMax<double>(value);
            var next = Weighed(t, weight);
            back[t] = new int[next.Length];
            for (var j = 0; j < next.Length; j++)
            {
                var (from, best) = (top, value[top] + (kind(t, top, j) == 0 ? same : change));
                for (var i = 0; i < value.Length; i++)
                {
                    if (kind(t, i, j) != 0 || value[i] + same <= best) continue;
                    (from, best) = (i, value[i] + same);
                }

                next[j] += best;
                back[t][j] = from;
            }

            value = next;
        }

        var path = new int[sizes.Length];
        path[^1] = TensorPrimitives.IndexOfMax<double>(value);
        for (var t = sizes.Length - 1; t > 0; t--) path[t - 1] = back[t][path[t]];
        return path;
    }

    /// <summary>The probability of every state at every step, with evidence and transitions weighed.</summary>
    public double[][] Marginals(double evidenceWeight, double transitionWeight)
    {
        var forward = new double[sizes.Length][];
        forward[0] = Weighed(0, evidenceWeight);
        for (var t = 1; t < sizes.Length; t++)
        {
            var weights = Weights(t, transitionWeight);
            forward[t] = Weighed(t, evidenceWeight);
            Pass(forward[t - 1], forward[t], weights, (i, j) => kind(t, i, j));
        }

        var marginals = new double[sizes.Length][];
        var backward = new double[sizes[^1]];
        for (var t = sizes.Length - 1; t >= 0; t--)
        {
            var sums = new double[sizes[t]];
            TensorPrimitives.Add(forward[t], backward, sums);
            TensorPrimitives.Subtract(sums, TensorPrimitives.Max<double>(sums), sums);
            TensorPrimitives.Exp(sums, sums);
            TensorPrimitives.Divide(sums, TensorPrimitives.Sum<double>(sums), sums);
            marginals[t] = sums;
            if (t == 0) break;
            var behind = Weighed(t, evidenceWeight);
            TensorPrimitives.Add(behind, backward, behind);
            backward = new double[sizes[t - 1]];
            Pass(behind, backward, Weights(t, transitionWeight), (i, j) => kind(t, j, i));
        }

        return marginals;
    }

    private (double Same, double Change) Weights(int t, double weight)
    {
        var (same, change) = transitions(t);
        return (Math.Exp(weight * same), Math.Exp(weight * change));
    }

    private double[] Weighed(int t, double weight)
    {
        var weighed = new double[sizes[t]];
        TensorPrimitives.Multiply(evidence[t], weight, weighed);
        return weighed;
    }

    // Adds to every state of 'to' the log sum over the states of 'from'; staying corrects the sum of all changes.
    private static void Pass(double[] from, double[] to, (double Same, double Change) weights, Func<int, int, int> kindOf)
    {
        var top = TensorPrimitives.Max<double>(from);
        var shares = new double[from.Length];
        TensorPrimitives.Subtract(from, top, shares);
        TensorPrimitives.Exp(shares, shares);
        var all = TensorPrimitives.Sum<double>(shares) * weights.Change;
        for (var j = 0; j < to.Length; j++)
        {
            var sum = all;
            for (var i = 0; i < shares.Length; i++)
                if (kindOf(i, j) == 0) sum += shares[i] * (weights.Same - weights.Change);
            to[j] += top + Math.Log(Math.Max(sum, 1e-300));
        }
    }
}
