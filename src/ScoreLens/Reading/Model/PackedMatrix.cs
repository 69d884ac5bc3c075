using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A weight matrix laid out for products on one core: outputs in blocks of sixteen, each block's inputs in a row, so that a
/// few vertical rows of the input share every weight that is loaded. Plain managed code; the same sums on every machine.
/// </summary>
internal sealed class PackedMatrix
{
    private const int Block = 16;
    private readonly float[] _packed;
    private readonly float[] _bias;

    /// <summary>Packs a matrix given as outputs × inputs, the way a linear layer stores it.</summary>
    public PackedMatrix(ReadOnlySpan<float> weights, ReadOnlySpan<float> bias, int outputs, int inputs)
    {
        Outputs = outputs;
        Inputs = inputs;
        Stride = (outputs + Block - 1) / Block * Block;
        _packed = new float[Stride * inputs];
        _bias = new float[Stride];
        bias.CopyTo(_bias);
        for (var o = 0; o < outputs; o++)
            for (var i = 0; i < inputs; i++)
                _packed[(((o / Block * inputs) + i) * Block) + (o % Block)] = weights[(o * inputs) + i];
    }

    public int Outputs { get; }

    public int Inputs { get; }

    /// <summary>Length of an output row: the outputs, rounded up to a whole block.</summary>
    public int Stride { get; }

    /// <summary>The products of <paramref name="rows"/> input rows, plus bias, into output rows of <see cref="Stride"/>.</summary>
    public void Multiply(ReadOnlySpan<float> input, int inputStride, int rows, Span<float> output)
    {
        var row = 0;
        for (; row + 4 <= rows; row += 4) Multiply4(input[(row * inputStride)..], inputStride, output[(row * Stride)..]);
        for (; row < rows; row++) Multiply1(input.Slice(row * inputStride, Inputs), output.Slice(row * Stride, Stride));
    }

    /// <summary>The product of one input row, plus bias.</summary>
    public void Multiply1(ReadOnlySpan<float> input, Span<float> output)
    {
        ref var x = ref MemoryMarshal.GetReference(input);
        ref var y = ref MemoryMarshal.GetReference(output);
        _ = input[Inputs - 1];
        _ = output[Stride - 1];
        var block = 0;
        // Two blocks at once: four sums that do not wait for each other.
        for (; block + (2 * Block) <= Stride; block += 2 * Block)
        {
            ref var w = ref _packed[block * Inputs];
            ref var v = ref _packed[(block + Block) * Inputs];
            var a = Vector256.LoadUnsafe(ref _bias[block]);
            var b = Vector256.LoadUnsafe(ref _bias[block + 8]);
            var c = Vector256.LoadUnsafe(ref _bias[block + 16]);
            var d = Vector256.LoadUnsafe(ref _bias[block + 24]);
            for (var i = 0; i < Inputs; i++)
            {
                var xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, i));
                var at = (nuint)(i * Block);
                a = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref w, at), a);
                b = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref w, at + 8), b);
                c = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref v, at), c);
                d = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref v, at + 8), d);
            }

            a.StoreUnsafe(ref y, (nuint)block);
            b.StoreUnsafe(ref y, (nuint)(block + 8));
            c.StoreUnsafe(ref y, (nuint)(block + 16));
            d.StoreUnsafe(ref y, (nuint)(block + 24));
        }

        for (; block < Stride; block += Block)
        {
            ref var w = ref _packed[block * Inputs];
            var a = Vector256.LoadUnsafe(ref _bias[block]);
            var b = Vector256.LoadUnsafe(ref _bias[block + 8]);
            for (var i = 0; i < Inputs; i++)
            {
                var xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, i));
                var at = (nuint)(i * Block);
                a = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref w, at), a);
                b = Vector256.FusedMultiplyAdd(xi, Vector256.LoadUnsafe(ref w, at + 8), b);
            }

            a.StoreUnsafe(ref y, (nuint)block);
            b.StoreUnsafe(ref y, (nuint)(block + 8));
        }
    }

    private void Multiply4(ReadOnlySpan<float> input, int stride, Span<float> output)
    {
        ref var x = ref MemoryMarshal.GetReference(input);
        ref var y = ref MemoryMarshal.GetReference(output);
        _ = input[(3 * stride) + Inputs - 1];
        _ = output[(4 * Stride) - 1];
        for (var block = 0; block < Stride; block += Block)
        {
            ref var w = ref _packed[block * Inputs];
            var low = Vector256.LoadUnsafe(ref _bias[block]);
            var high = Vector256.LoadUnsafe(ref _bias[block + 8]);
            Vector256<float> a0 = low, a1 = high, b0 = low, b1 = high, c0 = low, c1 = high, d0 = low, d1 = high;
            for (var i = 0; i < Inputs; i++)
            {
                var at = (nuint)(i * Block);
                var w0 = Vector256.LoadUnsafe(ref w, at);
                var w1 = Vector256.LoadUnsafe(ref w, at + 8);
                var xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, i));
                a0 = Vector256.FusedMultiplyAdd(xi, w0, a0);
                a1 = Vector256.FusedMultiplyAdd(xi, w1, a1);
                xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, stride + i));
                b0 = Vector256.FusedMultiplyAdd(xi, w0, b0);
                b1 = Vector256.FusedMultiplyAdd(xi, w1, b1);
                xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, (2 * stride) + i));
                c0 = Vector256.FusedMultiplyAdd(xi, w0, c0);
                c1 = Vector256.FusedMultiplyAdd(xi, w1, c1);
                xi = Vector256.Create(System.Runtime.CompilerServices.Unsafe.Add(ref x, (3 * stride) + i));
                d0 = Vector256.FusedMultiplyAdd(xi, w0, d0);
                d1 = Vector256.FusedMultiplyAdd(xi, w1, d1);
            }

            Store(ref y, block, a0, a1);
            Store(ref y, Stride + block, b0, b1);
            Store(ref y, (2 * Stride) + block, c0, c1);
            Store(ref y, (3 * Stride) + block, d0, d1);
        }
    }

    private static void Store(ref float y, int at, Vector256<float> low, Vector256<float> high)
    {
        low.StoreUnsafe(ref y, (nuint)at);
        high.StoreUnsafe(ref y, (nuint)(at + 8));
    }
}
