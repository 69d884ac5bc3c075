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
    /// <param name="input">The weights of the input.</param>
    /// <param name="inputBias">Its bias.</param>
    /// <param name="state">The weights of the state.</param>
    /// <param name="stateBias">Its bias.</param>
    /// <param name="own">How many of the inputs every step has for itself; the others it shares with its neighbours.</param>
    public GatedUnit(WeightMatrix input, float[] inputBias, WeightMatrix state, float[] stateBias, int own)
    {
        Units = inputBias.Length / Gates;

        // Eight units' resets, then their keeps, then their candidates: what belongs together lies together.
        int[] order = [.. Enumerable.Range(0, Gates * Units).Select(o => ((o / Lane % Gates) * Units) + (o / (Lane * Gates) * Lane)
            + (o % Lane))];
        input = input.WithOutputs(order);
        float[] bias = [.. order.Select(o => inputBias[o] + (o < 2 * Units ? stateBias[o] : 0))];
        Input = new PackedMatrix(input.OfInputs(0, own), bias);
        if (own < input.Inputs) Shared = new PackedMatrix(input.OfInputs(own, input.Inputs - own), bias);
        _state = new PackedMatrix(state.WithOutputs(order), [.. order.Select(o => o < 2 * Units ? 0 : stateBias[o])]);
    }

    /// <summary>Numbers in a state.</summary>
    public int Units { get; }

    /// <summary>What the inputs that a step has for itself bring to the gates.</summary>
    public PackedMatrix Input { get; }

    /// <summary>What the inputs bring that neighbouring steps share; null where there are none.</summary>
    public PackedMatrix? Shared { get; }

    /// <summary>A step.</summary>
    /// <param name="gates">What the inputs bring to the gates.</param>
    /// <param name="before">The state before the step, rounded.</param>
    /// <param name="sums">Room to work in, as large as <paramref name="gates"/>.</param>
    /// <param name="state">The state before the step, and then the one after it.</param>
    /// <param name="after">Takes the state after the step, rounded in steps of <see cref="Quantised.OfOne"/>.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Step(ReadOnlySpan<float> gates, Quantised before, Span<float> sums, Span<float> state, Span<short> after)
    {
        _state.Multiply(before, 1, sums);
        ref var input = ref MemoryMarshal.GetReference(gates[..(Gates * Units)]);
        ref var product = ref MemoryMarshal.GetReference(sums);
        ref var old = ref MemoryMarshal.GetReference(state[..Units]);
        ref var rounded = ref MemoryMarshal.GetReference(after[..Units]);
        var one = Vector256.Create((float)Quantised.Most);
        for (var left = Units; left > 0; left -= Lane)
        {
            var reset = Activation.Sigmoid(Vector256.LoadUnsafe(ref input) + Vector256.LoadUnsafe(ref product));
            var keep = Activation.Sigmoid(Vector256.LoadUnsafe(ref input, Lane) + Vector256.LoadUnsafe(ref product, Lane));
            var candidate = Activation.Tanh(
                Vector256.FusedMultiplyAdd(reset, Vector256.LoadUnsafe(ref product, 2 * Lane),
                    Vector256.LoadUnsafe(ref input, 2 * Lane)));
            var next = Vector256.FusedMultiplyAdd(keep, Vector256.LoadUnsafe(ref old) - candidate, candidate);
            next.StoreUnsafe(ref old);
            Quantised.Round(next, one, ref rounded);
            input = ref Unsafe.Add(ref input, Gates * Lane);
            product = ref Unsafe.Add(ref product, Gates * Lane);
            old = ref Unsafe.Add(ref old, Lane);
            rounded = ref Unsafe.Add(ref rounded, Lane);
        }
    }
}
