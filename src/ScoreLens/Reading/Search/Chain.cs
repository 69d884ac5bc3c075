using System.Buffers;
using System.Runtime.CompilerServices;
using ScoreLens.Reading.Model;

namespace ScoreLens.Reading.Search;

/// <summary>
/// A chain of states over verticals: log evidence for every state, and two log transitions a step, for staying and for
/// changing. Gives the best path and the probability of every state. All changes of a step cost alike, and a state stays in at
/// most one other, so that a step costs as much as it has states, not as much as it has pairs of them. The states of all steps lie
/// in one row, those of a step together.
/// </summary>
/// <param name="starts">Where the states of every step start in the row, and after the last step the length of the row.</param>
/// <param name="evidence">Log evidence of every state.</param>
/// <param name="stays">For every state the number, within its step, that it had the step before; -1 where it was none. Not read for the
/// first step.</param>
/// <param name="transitions">Log weights of staying and of changing into a step.</param>
internal sealed class Chain(int[] starts, double[] evidence, int[] stays, (double Same, double Change)[] transitions)
{
    private int Steps => starts.Length - 1;

    /// <summary>The best path, with the evidence weighed: the number of a state within every step.</summary>
    public int[] BestPath(double weight)
    {
        // Rooms as long as the row are lent: in a long score fresh ones cost more than what is done in them.
        var value = ArrayPool<double>.Shared.Rent(evidence.Length);
        var back = ArrayPool<int>.Shared.Rent(evidence.Length);
        for (var i = 0; i < evidence.Length; i++) value[i] = evidence[i] * weight;
        for (var t = 1; t < Steps; t++) Step(Of(value, t - 1), Of(value, t), Of(back, t), Of(stays, t), transitions[t]);

        var path = new int[Steps];
        path[^1] = Top(Of(value, Steps - 1));
        for (var t = Steps - 1; t > 0; t--) path[t - 1] = back[starts[t] + path[t]];
        ArrayPool<double>.Shared.Return(value);
        ArrayPool<int>.Shared.Return(back);
        return path;
    }

    /// <summary>The probability of every state, in the row of all, with evidence and transitions weighed.</summary>
    public double[] Marginals(double evidenceWeight, double transitionWeight)
    {
        var powers = ArrayPool<double>.Shared.Rent(evidence.Length);
        Weigh(powers.AsSpan(0, evidence.Length), evidenceWeight);
        var shares = powers.AsSpan(0, evidence.Length).ToArray();
        Normalise(Of(shares, 0));
        for (var t = 1; t < Steps; t++) Forward(Of(shares, t - 1), Of(shares, t), Of(stays, t), Weights(t, transitionWeight));

        // From the last step on back: of every state, how probable what follows is on it, up to a factor that they have in common.
        var most = Enumerable.Range(0, Steps).Max(t => starts[t + 1] - starts[t]);
        Span<double> behind = new double[most];
        behind.Fill(1);
        for (var t = Steps - 1; t > 0; t--)
        {
            Multiply(Of(shares, t), behind);
            Multiply(Of(powers, t), behind);
            Backward(Of(powers, t), behind[..(starts[t] - starts[t - 1])], Of(stays, t), Weights(t, transitionWeight));
        }

        Multiply(Of(shares, 0), behind);
        ArrayPool<double>.Shared.Return(powers);
        return shares;
    }

    // The best state before serves every state as a change; only staying must be looked at apart.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Step(ReadOnlySpan<double> value, Span<double> next, Span<int> back, ReadOnlySpan<int> stays,
        (double Same, double Change) weights)
    {
        var (same, change) = weights;
        var top = Top(value);
        for (var j = 0; j < next.Length; j++)
        {
            var stay = stays[j];
            var (from, best) = (top, value[top] + (stay == top ? same : change));
            if (stay >= 0 && value[stay] + same > best) (from, best) = (stay, value[stay] + same);
            next[j] += best;
            back[j] = from;
        }
    }

    // From the shares of the states before, which sum to one: every state follows on all of them, on one as the same.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Forward(ReadOnlySpan<double> from, Span<double> to, ReadOnlySpan<int> stays, (double Same, double Change) weights)
    {
        for (var j = 0; j < to.Length; j++)
        {
            var same = stays[j] >= 0 ? from[stays[j]] : 0;
            to[j] *= (same * weights.Same) + ((1 - same) * weights.Change);
        }

        Normalise(to);
    }

    // From the shares of the states behind, which sum to one, in the same way.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Backward(ReadOnlySpan<double> from, Span<double> to, ReadOnlySpan<int> stays, (double Same, double Change) weights)
    {
        to.Fill(weights.Change);
        for (var j = 0; j < from.Length; j++)
            if (stays[j] >= 0) to[stays[j]] = (from[j] * weights.Same) + ((1 - from[j]) * weights.Change);
    }

    // The exponentials of the weighed evidence, in each step as shares of the largest.
    private void Weigh(Span<double> powers, double weight)
    {
        for (var t = 0; t < Steps; t++)
        {
            var own = Of(evidence, t);
            var top = own[Top(own)];
            for (var i = 0; i < own.Length; i++) powers[starts[t] + i] = weight * (own[i] - top);
        }

        Exponentials.InPlace(powers);
    }

    // As many as there are shares; they sum to one afterwards.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Multiply(Span<double> shares, ReadOnlySpan<double> factors)
    {
        for (var i = 0; i < shares.Length; i++) shares[i] *= factors[i];
        Normalise(shares);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Normalise(Span<double> shares)
    {
        double sum = 0;
        foreach (var share in shares) sum += share;
        foreach (ref var share in shares) share /= sum;
    }

    // The largest value; the first of equal ones.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Top(ReadOnlySpan<double> values)
    {
        var top = 0;
        for (var i = 1; i < values.Length; i++)
            if (values[i] > values[top]) top = i;
        return top;
    }

    private Span<T> Of<T>(T[] row, int t) => row.AsSpan(starts[t], starts[t + 1] - starts[t]);

    private (double Same, double Change) Weights(int t, double weight)
    {
        var (same, change) = transitions[t];
        return (Math.Exp(weight * same), Math.Exp(weight * change));
    }
}
