using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A gated recurrent unit in one direction: reset and keep decide how much of the state goes into the candidate and how much
/// stays. What comes from the input is one product for many steps; a step then needs only the product with the state. Immutable.
/// </summary>
internal sealed class GatedUnit
{
    private const int Lane = 8;
    private const int Gates = 3;
    private readonly PackedMatrix _state;

    /// <summary>Takes weights given as (reset, keep, candidate) × inputs, a multiple of eight units each.</summary>
    public GatedUnit(float[] input, float[] inputBias, float[] state, float[] stateBias)
    {
        Units = inputBias.Length / Gates;

        // Eight units' resets, then their keeps, then their candidates: what belongs together lies together.
        int[] order = [.. Enumerable.Range(0, Gates * Units).Select(o => ((o / Lane % Gates) * Units) + (o / (Lane * Gates) * Lane)
            + (o % Lane))];
        Input = Matrix(input, input.Length / inputBias.Length, [.. order.Select(o => inputBias[o] + (o < 2 * Units ? stateBias[o] : 0))]);
        _state = Matrix(state, Units, [.. order.Select(o => o < 2 * Units ? 0 : stateBias[o])]);

        PackedMatrix Matrix(float[] weights, int inputs, float[] bias) =>
            new(order.SelectMany(o => weights.AsSpan(o * inputs, inputs).ToArray()).ToArray(), bias, order.Length, inputs);
    }

    /// <summary>Numbers in a state.</summary>
    public int Units { get; }

    /// <summary>What the input brings to the gates.</summary>
    public PackedMatrix Input { get; }

    /// <summary>A step of many states, each with its own input.</summary>
    /// <param name="gates">What <see cref="Input"/> made of the inputs.</param>
    /// <param name="before">The states before the step.</param>
    /// <param name="sums">Room to work in, as large as <paramref name="gates"/>.</param>
    /// <param name="after">Where the states after it go; elsewhere than those before.</param>
    /// <param name="rows">How many states.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Step(ReadOnlySpan<float> gates, InputRows before, Span<float> sums, Span<float> after, int rows)
    {
        _state.Multiply([before], rows, sums);
        ref var input = ref MemoryMarshal.GetReference(gates[..(rows * Gates * Units)]);
        ref var product = ref MemoryMarshal.GetReference(sums);
        ref var old = ref MemoryMarshal.GetReference(before.Array.AsSpan(before.Start, rows * Units));
        ref var state = ref MemoryMarshal.GetReference(after[..(rows * Units)]);
        for (var left = rows * Units; left > 0; left -= Lane)
        {
            var reset = Activation.Sigmoid(Vector256.LoadUnsafe(ref input) + Vector256.LoadUnsafe(ref product));
            var keep = Activation.Sigmoid(Vector256.LoadUnsafe(ref input, Lane) + Vector256.LoadUnsafe(ref product, Lane));
            var candidate = Activation.Tanh(
                Vector256.FusedMultiplyAdd(reset, Vector256.LoadUnsafe(ref product, 2 * Lane),
                    Vector256.LoadUnsafe(ref input, 2 * Lane)));
            Vector256.FusedMultiplyAdd(keep, Vector256.LoadUnsafe(ref old) - candidate, candidate).StoreUnsafe(ref state);
            input = ref Unsafe.Add(ref input, Gates * Lane);
            product = ref Unsafe.Add(ref product, Gates * Lane);
            old = ref Unsafe.Add(ref old, Lane);
            state = ref Unsafe.Add(ref state, Lane);
        }
    }
}
