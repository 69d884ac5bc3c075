using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A weight matrix laid out for products on one core, in whole numbers: eight bits a weight, sixteen a number of the input, thirty-two a sum.
/// Whole numbers add up to the same in whatever order, so that every machine gives the same bytes, however wide its vectors are. Outputs
/// stand in panels of sixteen; in a panel the weights of two inputs lie side by side, as the processor multiplies them. Immutable.
/// </summary>
internal sealed class PackedMatrix
{
    /// <summary>Outputs that are reckoned together.</summary>
    public const int Panel = 16;

    private const int Lane = 8;
    private const int Tile = 4;

    // The sum of a row must fit: an input times a weight is at most so much.
    private const int MostInputs = int.MaxValue / (Quantised.Most * sbyte.MaxValue);

    private readonly sbyte[] _packed;
    private readonly float[] _scales;
    private readonly float[] _bias;
    private readonly int _pairs;

    /// <summary>Packs a matrix.</summary>
    /// <param name="weights">The weights.</param>
    /// <param name="bias">What is added to every output; none where it is empty.</param>
    /// <exception cref="InvalidDataException">It has more inputs than a sum can hold.</exception>
    public PackedMatrix(WeightMatrix weights, ReadOnlySpan<float> bias)
    {
        Inputs = weights.Inputs;
        if (Inputs > MostInputs) throw new InvalidDataException($"The reading model has a matrix of {Inputs} inputs.");
        _pairs = (Inputs + 1) / 2;
        Stride = (weights.Outputs + Panel - 1) / Panel * Panel;
        _packed = new sbyte[Stride * 2 * _pairs];
        (_scales, _bias) = (new float[Stride], new float[Stride]);
        weights.Scales.CopyTo(_scales, 0);
        bias.CopyTo(_bias);
        for (var o = 0; o < weights.Outputs; o++) Pack(weights.Row(o), _packed.AsSpan((o / Panel * Panel * 2 * _pairs) + (o % Panel * 2)));
    }

    /// <summary>Length of an input row.</summary>
    public int Inputs { get; }

    /// <summary>Length of an output row: the outputs, rounded up to a whole panel.</summary>
    public int Stride { get; }

    /// <summary>The products of rows of the input, into output rows of <see cref="Stride"/>.</summary>
    /// <param name="input">The rows; an odd number of inputs is followed by a zero.</param>
    /// <param name="rows">How many rows.</param>
    /// <param name="output">Where they go.</param>
    /// <param name="onto">What they are added to.</param>
    public void Multiply(Quantised input, int rows, Span<float> output, Onto onto = Onto.Bias)
    {
        if (rows == 0) return;
        _ = input.Numbers.AsSpan(input.Start, ((rows - 1) * input.Stride) + (2 * _pairs));
        _ = input.Steps.AsSpan(input.FirstStep, rows);
        _ = output[(rows * Stride) - 1];
        for (var first = 0; first < Stride; first += Panel)
        {
            ref var to = ref output[first];
            var row = 0;
            for (; row + Tile <= rows; row += Tile) Four(input, row, first, ref Unsafe.Add(ref to, row * Stride), onto);
            for (; row < rows; row++) One(input, row, first, ref Unsafe.Add(ref to, row * Stride), onto);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Pack(ReadOnlySpan<sbyte> row, Span<sbyte> to)
    {
        for (var i = 0; i < row.Length; i++) to[(i / 2 * 2 * Panel) + (i % 2)] = row[i];
    }

    // Four rows share every weight that is loaded, and all their sums stay in registers.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Four(Quantised input, int row, int first, ref float to, Onto onto)
    {
        ref var w = ref _packed[first * 2 * _pairs];
        ref var a = ref Unsafe.As<short, int>(ref input.Numbers[input.Start + (row * input.Stride)]);
        ref var b = ref Unsafe.As<short, int>(ref Unsafe.Add(ref Unsafe.As<int, short>(ref a), input.Stride));
        ref var c = ref Unsafe.As<short, int>(ref Unsafe.Add(ref Unsafe.As<int, short>(ref b), input.Stride));
        ref var d = ref Unsafe.As<short, int>(ref Unsafe.Add(ref Unsafe.As<int, short>(ref c), input.Stride));
        Vector256<int> a0 = default, a1 = default, b0 = default, b1 = default, c0 = default, c1 = default, d0 = default, d1 = default;
        for (nuint pair = 0, count = (nuint)_pairs; pair < count; pair++)
        {
            var w0 = Pairs.Widen(ref w);
            var w1 = Pairs.Widen(ref Unsafe.Add(ref w, Panel));
            w = ref Unsafe.Add(ref w, 2 * Panel);
            var x = Vector256.Create(Unsafe.Add(ref a, pair)).AsInt16();
            a0 += Pairs.Multiply(w0, x);
            a1 += Pairs.Multiply(w1, x);
            x = Vector256.Create(Unsafe.Add(ref b, pair)).AsInt16();
            b0 += Pairs.Multiply(w0, x);
            b1 += Pairs.Multiply(w1, x);
            x = Vector256.Create(Unsafe.Add(ref c, pair)).AsInt16();
            c0 += Pairs.Multiply(w0, x);
            c1 += Pairs.Multiply(w1, x);
            x = Vector256.Create(Unsafe.Add(ref d, pair)).AsInt16();
            d0 += Pairs.Multiply(w0, x);
            d1 += Pairs.Multiply(w1, x);
        }

        ref var step = ref input.Steps[input.FirstStep + row];
        Store(a0, a1, first, step, ref to, onto);
        Store(b0, b1, first, Unsafe.Add(ref step, 1), ref Unsafe.Add(ref to, Stride), onto);
        Store(c0, c1, first, Unsafe.Add(ref step, 2), ref Unsafe.Add(ref to, 2 * Stride), onto);
        Store(d0, d1, first, Unsafe.Add(ref step, 3), ref Unsafe.Add(ref to, 3 * Stride), onto);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void One(Quantised input, int row, int first, ref float to, Onto onto)
    {
        ref var w = ref _packed[first * 2 * _pairs];
        ref var a = ref Unsafe.As<short, int>(ref input.Numbers[input.Start + (row * input.Stride)]);
        Vector256<int> even0 = default, even1 = default, odd0 = default, odd1 = default;
        nuint pair = 0, count = (nuint)_pairs;
        for (; pair + 2 <= count; pair += 2)
        {
            var x = Vector256.Create(Unsafe.Add(ref a, pair)).AsInt16();
            even0 += Pairs.Multiply(Pairs.Widen(ref w), x);
            even1 += Pairs.Multiply(Pairs.Widen(ref Unsafe.Add(ref w, Panel)), x);
            x = Vector256.Create(Unsafe.Add(ref a, pair + 1)).AsInt16();
            odd0 += Pairs.Multiply(Pairs.Widen(ref Unsafe.Add(ref w, 2 * Panel)), x);
            odd1 += Pairs.Multiply(Pairs.Widen(ref Unsafe.Add(ref w, 3 * Panel)), x);
            w = ref Unsafe.Add(ref w, 4 * Panel);
        }

        if (pair < count)
        {
            var x = Vector256.Create(Unsafe.Add(ref a, pair)).AsInt16();
            even0 += Pairs.Multiply(Pairs.Widen(ref w), x);
            even1 += Pairs.Multiply(Pairs.Widen(ref Unsafe.Add(ref w, Panel)), x);
        }

        Store(even0 + odd0, even1 + odd1, first, input.Steps[input.FirstStep + row], ref to, onto);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Store(Vector256<int> low, Vector256<int> high, int first, float step, ref float to, Onto onto)
    {
        ref var scale = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_scales), first);
        ref var start = ref onto == Onto.Output ? ref to : ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_bias), first);
        var steps = Vector256.Create(step);
        var lower = Vector256.FusedMultiplyAdd(Vector256.ConvertToSingle(low), Vector256.LoadUnsafe(ref scale) * steps,
            Vector256.LoadUnsafe(ref start));
        var upper = Vector256.FusedMultiplyAdd(Vector256.ConvertToSingle(high), Vector256.LoadUnsafe(ref scale, Lane) * steps,
            Vector256.LoadUnsafe(ref start, Lane));
        lower.StoreUnsafe(ref to);
        upper.StoreUnsafe(ref to, Lane);
    }
}

/// <summary>What the products of a <see cref="PackedMatrix"/> are added to.</summary>
internal enum Onto
{
    /// <summary>To the bias.</summary>
    Bias,

    /// <summary>To what stands in the output.</summary>
    Output,
}
