using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A gated recurrent unit in one direction: reset and keep decide how much of the state goes into the candidate and how much
/// stays. What comes from the input is one product for many steps; a step then needs only the product with the state, whose sums
/// go through the gates without leaving the registers. Immutable.
/// </summary>
internal sealed class GatedUnit
{
    private const int Lane = 8;
    private const int Tile = 4;
    private const int Gates = 3;
    private readonly float[] _state;
    private readonly float[] _candidateBias;

    /// <summary>Takes weights given as (reset, keep, candidate) × inputs, a multiple of eight units each.</summary>
    public GatedUnit(float[] input, float[] inputBias, float[] state, float[] stateBias)
    {
        Units = inputBias.Length / Gates;
        var inputs = input.Length / inputBias.Length;

        // Eight units' resets, then their keeps, then their candidates, so that a tile has all three at once.
        int[] order = [.. Enumerable.Range(0, Gates * Units).Select(o => ((o / Lane % Gates) * Units) + (o / (Lane * Gates) * Lane) + (o % Lane))];
        Input = new PackedMatrix(
            order.SelectMany(o => input.AsSpan(o * inputs, inputs).ToArray()).ToArray(),
            [.. order.Select(o => inputBias[o] + (o < 2 * Units ? stateBias[o] : 0))],
            order.Length,
            inputs);
        _candidateBias = stateBias[(2 * Units)..];
        _state = new float[state.Length];
        var at = 0;
        for (var block = 0; block < order.Length; block += Lane * Gates)
            for (var i = 0; i < Units; i++)
                foreach (var o in order.AsSpan(block, Lane * Gates)) _state[at++] = state[(o * Units) + i];
    }

    /// <summary>Numbers in a state.</summary>
    public int Units { get; }

    /// <summary>What the input brings to the gates.</summary>
    public PackedMatrix Input { get; }

    /// <summary>A step of many states, four at least, each with its own input.</summary>
    /// <param name="gates">What <see cref="Input"/> made of the inputs.</param>
    /// <param name="before">The states before the step.</param>
    /// <param name="after">Where the states after it go; elsewhere than those before.</param>
    /// <param name="rows">How many states.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Step(ReadOnlySpan<float> gates, ReadOnlySpan<float> before, Span<float> after, int rows)
    {
        var units = Units;
        var width = Gates * units;
        _ = gates[(rows * width) - 1];
        _ = before[(rows * units) - 1];
        _ = after[(rows * units) - 1];
        for (var unit = 0; unit < units; unit += Lane)
        {
            var bias = Vector256.LoadUnsafe(ref _candidateBias[unit]);
            ref var weights = ref _state[Gates * unit * units];
            for (var next = 0; next < rows; next += Tile)
            {
                // The last four states overlap the ones before where they do not come out even.
                var row = Math.Min(next, rows - Tile);
                ref var fromA = ref Unsafe.Add(ref MemoryMarshal.GetReference(gates), (row * width) + (Gates * unit));
                ref var fromB = ref Unsafe.Add(ref fromA, width);
                ref var fromC = ref Unsafe.Add(ref fromB, width);
                ref var fromD = ref Unsafe.Add(ref fromC, width);
                var resetA = Vector256.LoadUnsafe(ref fromA);
                var keepA = Vector256.LoadUnsafe(ref fromA, Lane);
                var resetB = Vector256.LoadUnsafe(ref fromB);
                var keepB = Vector256.LoadUnsafe(ref fromB, Lane);
                var resetC = Vector256.LoadUnsafe(ref fromC);
                var keepC = Vector256.LoadUnsafe(ref fromC, Lane);
                var resetD = Vector256.LoadUnsafe(ref fromD);
                var keepD = Vector256.LoadUnsafe(ref fromD, Lane);
                Vector256<float> newA = bias, newB = bias, newC = bias, newD = bias;
                ref var w = ref weights;
                ref var a = ref Unsafe.Add(ref MemoryMarshal.GetReference(before), row * units);
                ref var b = ref Unsafe.Add(ref a, units);
                ref var c = ref Unsafe.Add(ref b, units);
                ref var d = ref Unsafe.Add(ref c, units);
                for (nuint i = 0, count = (nuint)units; i < count; i++)
                {
                    var w0 = Vector256.LoadUnsafe(ref w);
                    var w1 = Vector256.LoadUnsafe(ref w, 8);
                    var w2 = Vector256.LoadUnsafe(ref w, 16);
                    w = ref Unsafe.Add(ref w, 24);
                    var x = Vector256.Create(Unsafe.Add(ref a, i));
                    resetA = Vector256.MultiplyAddEstimate(x, w0, resetA);
                    keepA = Vector256.MultiplyAddEstimate(x, w1, keepA);
                    newA = Vector256.MultiplyAddEstimate(x, w2, newA);
                    x = Vector256.Create(Unsafe.Add(ref b, i));
                    resetB = Vector256.MultiplyAddEstimate(x, w0, resetB);
                    keepB = Vector256.MultiplyAddEstimate(x, w1, keepB);
                    newB = Vector256.MultiplyAddEstimate(x, w2, newB);
                    x = Vector256.Create(Unsafe.Add(ref c, i));
                    resetC = Vector256.MultiplyAddEstimate(x, w0, resetC);
                    keepC = Vector256.MultiplyAddEstimate(x, w1, keepC);
                    newC = Vector256.MultiplyAddEstimate(x, w2, newC);
                    x = Vector256.Create(Unsafe.Add(ref d, i));
                    resetD = Vector256.MultiplyAddEstimate(x, w0, resetD);
                    keepD = Vector256.MultiplyAddEstimate(x, w1, keepD);
                    newD = Vector256.MultiplyAddEstimate(x, w2, newD);
                }

                ref var to = ref Unsafe.Add(ref MemoryMarshal.GetReference(after), (row * units) + unit);
                Next(resetA, keepA, newA, ref fromA, ref Unsafe.Add(ref a, unit)).StoreUnsafe(ref to);
                to = ref Unsafe.Add(ref to, units);
                Next(resetB, keepB, newB, ref fromB, ref Unsafe.Add(ref b, unit)).StoreUnsafe(ref to);
                to = ref Unsafe.Add(ref to, units);
                Next(resetC, keepC, newC, ref fromC, ref Unsafe.Add(ref c, unit)).StoreUnsafe(ref to);
                to = ref Unsafe.Add(ref to, units);
                Next(resetD, keepD, newD, ref fromD, ref Unsafe.Add(ref d, unit)).StoreUnsafe(ref to);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Next(Vector256<float> reset, Vector256<float> keep, Vector256<float> candidate, ref float gates, ref float before)
    {
        candidate = Activation.Tanh(Vector256.MultiplyAddEstimate(Activation.Sigmoid(reset), candidate, Vector256.LoadUnsafe(ref gates, 2 * Lane)));
        return Vector256.MultiplyAddEstimate(Activation.Sigmoid(keep), Vector256.LoadUnsafe(ref before) - candidate, candidate);
    }
}
