using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A chain of states over verticals: log evidence for every state, and two log transitions a step, for staying and for
/// changing. Gives the best path and the probability of every state. All changes of a step cost alike, and a state stays in at
/// most one other, so that a step costs as much as it has states, not as much as it has pairs of them.
/// </summary>
/// <param name="evidence">Log evidence of every state at every step.</param>
/// <param name="stays">For every state of a step the number that it had the step before; -1 where it was none. Not read for the first step.</param>
/// <param name="transitions">Log weights of staying and of changing into a step.</param>
internal sealed class Chain(double[][] evidence, int[][] stays, (double Same, double Change)[] transitions)
{
    private const double Least = 1e-300;

    private readonly double[] _shares = new double[evidence.Max(e => e.Length)];
    private readonly double[] _sums = new double[evidence.Max(e => e.Length)];

    /// <summary>The best path, with the evidence weighed.</summary>
    public int[] BestPath(double weight)
    {
        var back = new int[evidence.Length][];
        var value = Weighed(0, weight);
        for (var t = 1; t < evidence.Length; t++)
        {
            var next = Weighed(t, weight);
            back[t] = new int[next.Length];
            Step(value, next, back[t], stays[t], transitions[t]);
            value = next;
        }

        var path = new int[evidence.Length];
        path[^1] = TensorPrimitives.IndexOfMax<double>(value);
        for (var t = evidence.Length - 1; t > 0; t--) path[t - 1] = back[t][path[t]];
        return path;
    }

    /// <summary>The probability of every state at every step, with evidence and transitions weighed.</summary>
    public double[][] Marginals(double evidenceWeight, double transitionWeight)
    {
        var forward = new double[evidence.Length][];
        forward[0] = Weighed(0, evidenceWeight);
        for (var t = 1; t < evidence.Length; t++)
        {
            forward[t] = Weighed(t, evidenceWeight);
            Forward(forward[t - 1], forward[t], stays[t], Weights(t, transitionWeight));
        }

        var backward = new double[_shares.Length];
        var behind = new double[_shares.Length];
        for (var t = evidence.Length - 1; t >= 0; t--)
        {
            var here = backward.AsSpan(0, evidence[t].Length);
            Combine(forward[t], here);
            if (t == 0) break;
            var weighed = behind.AsSpan(0, here.Length);
            TensorPrimitives.Multiply(evidence[t], evidenceWeight, weighed);
            TensorPrimitives.Add<double>(weighed, here, weighed);
            var before = backward.AsSpan(0, evidence[t - 1].Length);
            before.Clear();
            Backward(weighed, before, stays[t], Weights(t, transitionWeight));
        }

        return forward;
    }

    // The best state before serves every state as a change; only staying must be looked at apart.
    private static void Step(ReadOnlySpan<double> value, Span<double> next, Span<int> back, ReadOnlySpan<int> stays, (double Same, double Change) weights)
    {
        var (same, change) = weights;
        var top = TensorPrimitives.IndexOfMax(value);
        for (var j = 0; j < next.Length; j++)
        {
            var stay = stays[j];
            var (from, best) = (top, value[top] + (stay == top ? same : change));
            if (stay >= 0 && value[stay] + same > best) (from, best) = (stay, value[stay] + same);
            next[j] += best;
            back[j] = from;
        }
    }

    private void Forward(ReadOnlySpan<double> from, Span<double> to, ReadOnlySpan<int> stays, (double Same, double Change) weights)
    {
        var top = Share(from, to.Length, weights, out var shares, out var sums);
        for (var j = 0; j < to.Length; j++)
            if (stays[j] >= 0) sums[j] += shares[stays[j]] * (weights.Same - weights.Change);
        AddLogs(sums, top, to);
    }

    private void Backward(ReadOnlySpan<double> from, Span<double> to, ReadOnlySpan<int> stays, (double Same, double Change) weights)
    {
        var top = Share(from, to.Length, weights, out var shares, out var sums);
        for (var i = 0; i < from.Length; i++)
            if (stays[i] >= 0) sums[stays[i]] += shares[i] * (weights.Same - weights.Change);
        AddLogs(sums, top, to);
    }

    // The share of every state in the likeliest, which is given back, and for every state to come the sum as if all of them changed.
    private double Share(ReadOnlySpan<double> from, int count, (double Same, double Change) weights, out Span<double> shares, out Span<double> sums)
    {
        var top = TensorPrimitives.Max(from);
        shares = _shares.AsSpan(0, from.Length);
        sums = _sums.AsSpan(0, count);
        TensorPrimitives.Subtract(from, top, shares);
        TensorPrimitives.Exp<double>(shares, shares);
        sums.Fill(TensorPrimitives.Sum<double>(shares) * weights.Change);
        return top;
    }

    private static void AddLogs(ReadOnlySpan<double> sums, double top, Span<double> to)
    {
        for (var j = 0; j < to.Length; j++) to[j] += top + Math.Log(Math.Max(sums[j], Least));
    }

    private static void Combine(Span<double> forward, ReadOnlySpan<double> backward)
    {
        TensorPrimitives.Add(forward, backward, forward);
        TensorPrimitives.Subtract(forward, TensorPrimitives.Max<double>(forward), forward);
        TensorPrimitives.Exp<double>(forward, forward);
        TensorPrimitives.Divide(forward, TensorPrimitives.Sum<double>(forward), forward);
    }

    private (double Same, double Change) Weights(int t, double weight)
    {
        var (same, change) = transitions[t];
        return (Math.Exp(weight * same), Math.Exp(weight * change));
    }

    private double[] Weighed(int t, double weight)
    {
        var weighed = new double[evidence[t].Length];
        TensorPrimitives.Multiply(evidence[t], weight, weighed);
        return weighed;
    }
}
