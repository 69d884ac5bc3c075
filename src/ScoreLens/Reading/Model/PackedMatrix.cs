using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A weight matrix laid out for products on one core: outputs in panels of 24, 16 or 8, the inputs of a panel in a row, so that
/// four rows of the input share every weight that is loaded and all sums of a tile stay in registers. The input may lie in
/// several places, one part after the other. Plain managed code; the same sums on every machine within rounding. Immutable.
/// </summary>
internal sealed class PackedMatrix
{
    private const int Lane = 8;
    private const int Tile = 4;
    private readonly float[] _packed;
    private readonly float[] _bias;
    private readonly int[] _panels;

    /// <summary>Packs a matrix given as outputs × inputs, the way a linear layer stores it.</summary>
    public PackedMatrix(ReadOnlySpan<float> weights, ReadOnlySpan<float> bias, int outputs, int inputs)
    {
        Inputs = inputs;
        Stride = (outputs + Lane - 1) / Lane * Lane;
        _panels = [.. PanelsOf(Stride / Lane)];
        _packed = new float[Stride * inputs];
        _bias = new float[Stride];
        bias.CopyTo(_bias);
        var first = 0;
        foreach (var panel in _panels)
        {
            for (var o = first; o < Math.Min(outputs, first + panel); o++)
                for (var i = 0; i < inputs; i++)
                    _packed[(first * inputs) + (i * panel) + o - first] = weights[(o * inputs) + i];
            first += panel;
        }
    }

    /// <summary>Length of an input row, all its parts together.</summary>
    public int Inputs { get; }

    /// <summary>Length of an output row: the outputs, rounded up to a whole vector.</summary>
    public int Stride { get; }

    /// <summary>The products of rows of the input, into output rows of <see cref="Stride"/>.</summary>
    /// <param name="parts">The input: every row is made of a row of each part.</param>
    /// <param name="rows">How many rows.</param>
    /// <param name="output">Where they go; not where the input or <paramref name="onto"/> lies.</param>
    /// <param name="onto">Rows that the products are added to; the bias where it is empty.</param>
    /// <param name="clamp">Leaves nothing below zero.</param>
    public void Multiply(ReadOnlySpan<InputRows> parts, int rows, Span<float> output, ReadOnlySpan<float> onto = default,
        bool clamp = false)
    {
        if (rows == 0) return;
        var inputs = 0;
        foreach (var part in parts)
        {
            _ = part.Array.AsSpan(part.Start, ((rows - 1) * part.Stride) + part.Count);
            inputs += part.Count;
        }

        if (inputs != Inputs) throw new ArgumentException("The parts do not make up an input row.", nameof(parts));
        _ = output[(rows * Stride) - 1];
        if (!onto.IsEmpty) _ = onto[(rows * Stride) - 1];
        var floor = Vector256.Create(clamp ? 0 : float.NegativeInfinity);
        var first = 0;
        foreach (var panel in _panels)
        {
            ref var weights = ref _packed[first * Inputs];
            ref var start = ref onto.IsEmpty ? ref _bias[first] : ref Unsafe.Add(ref MemoryMarshal.GetReference(onto), first);
            var step = onto.IsEmpty ? 0 : Stride;
            ref var to = ref output[first];
            if (panel == 3 * Lane) Rows<ThreeLanes>(parts, rows, ref weights, ref start, step, ref to, Stride, floor);
            else if (panel == 2 * Lane) Rows<TwoLanes>(parts, rows, ref weights, ref start, step, ref to, Stride, floor);
            else Rows<OneLane>(parts, rows, ref weights, ref start, step, ref to, Stride, floor);
            first += panel;
        }
    }

    // As many panels of 24 as there are; what is left in panels of 16, which are nearly as fast, and of 8 only where there is no more.
    private static IEnumerable<int> PanelsOf(int lanes)
    {
        while (lanes > 0)
        {
            var next = lanes is 1 ? 1 : lanes is 2 or 4 ? 2 : 3;
            yield return next * Lane;
            lanes -= next;
        }
    }

    private static void Rows<TLanes>(
        ReadOnlySpan<InputRows> parts, int rows, ref float weights, ref float start, int step, ref float output, int stride,
            Vector256<float> floor)
        where TLanes : struct, ILanes<TLanes>
    {
        if (rows < Tile) Few<TLanes>(parts, rows, ref weights, ref start, step, ref output, stride, floor);
        else Panel<TLanes>(parts, rows, ref weights, ref start, step, ref output, stride, floor);
    }

    // Rows are taken four at a time; the last four overlap the ones before where they do not come out even, which changes nothing.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Panel<TLanes>(
        ReadOnlySpan<InputRows> parts, int rows, ref float weights, ref float start, int step, ref float output, int stride,
            Vector256<float> floor)
        where TLanes : struct, ILanes<TLanes>
    {
        for (var next = 0; next < rows; next += Tile)
        {
            var row = Math.Min(next, rows - Tile);
            ref var s = ref Unsafe.Add(ref start, row * step);
            var sumA = TLanes.Load(ref s);
            var sumB = TLanes.Load(ref Unsafe.Add(ref s, step));
            var sumC = TLanes.Load(ref Unsafe.Add(ref s, 2 * step));
            var sumD = TLanes.Load(ref Unsafe.Add(ref s, 3 * step));
            ref var w = ref weights;
            foreach (ref readonly var part in parts)
            {
                ref var a = ref part.Array[part.Start + (row * part.Stride)];
                ref var b = ref Unsafe.Add(ref a, part.Stride);
                ref var c = ref Unsafe.Add(ref b, part.Stride);
                ref var d = ref Unsafe.Add(ref c, part.Stride);
                for (nuint i = 0, count = (nuint)part.Count; i < count; i++)
                {
                    var weight = TLanes.Load(ref w);
                    w = ref Unsafe.Add(ref w, TLanes.Length);
                    sumA = TLanes.Add(sumA, weight, Vector256.Create(Unsafe.Add(ref a, i)));
                    sumB = TLanes.Add(sumB, weight, Vector256.Create(Unsafe.Add(ref b, i)));
                    sumC = TLanes.Add(sumC, weight, Vector256.Create(Unsafe.Add(ref c, i)));
                    sumD = TLanes.Add(sumD, weight, Vector256.Create(Unsafe.Add(ref d, i)));
                }
            }

            ref var to = ref Unsafe.Add(ref output, row * stride);
            TLanes.Store(sumA, floor, ref to);
            TLanes.Store(sumB, floor, ref Unsafe.Add(ref to, stride));
            TLanes.Store(sumC, floor, ref Unsafe.Add(ref to, 2 * stride));
            TLanes.Store(sumD, floor, ref Unsafe.Add(ref to, 3 * stride));
        }
    }

    // Fewer rows than a tile has: one at a time, in four sums each, so that one need not wait for the other.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Few<TLanes>(
        ReadOnlySpan<InputRows> parts, int rows, ref float weights, ref float start, int step, ref float output, int stride,
            Vector256<float> floor)
        where TLanes : struct, ILanes<TLanes>
    {
        for (var row = 0; row < rows; row++)
        {
            var sumA = TLanes.Load(ref Unsafe.Add(ref start, row * step));
            TLanes sumB = default, sumC = default, sumD = default;
            ref var w = ref weights;
            foreach (ref readonly var part in parts)
            {
                ref var x = ref part.Array[part.Start + (row * part.Stride)];
                nuint i = 0, count = (nuint)part.Count;
                for (; i + Tile <= count; i += Tile)
                {
                    sumA = TLanes.Add(sumA, TLanes.Load(ref w), Vector256.Create(Unsafe.Add(ref x, i)));
                    sumB = TLanes.Add(sumB, TLanes.Load(ref Unsafe.Add(ref w, TLanes.Length)), Vector256.Create(Unsafe.Add(ref x, i + 1)));
                    sumC = TLanes.Add(sumC, TLanes.Load(ref Unsafe.Add(ref w, 2 * TLanes.Length)),
                        Vector256.Create(Unsafe.Add(ref x, i + 2)));
                    sumD = TLanes.Add(sumD, TLanes.Load(ref Unsafe.Add(ref w, 3 * TLanes.Length)),
                        Vector256.Create(Unsafe.Add(ref x, i + 3)));
                    w = ref Unsafe.Add(ref w, Tile * TLanes.Length);
                }

                for (; i < count; i++)
                {
                    sumA = TLanes.Add(sumA, TLanes.Load(ref w), Vector256.Create(Unsafe.Add(ref x, i)));
                    w = ref Unsafe.Add(ref w, TLanes.Length);
                }
            }

            TLanes.Store(TLanes.Sum(TLanes.Sum(sumA, sumB), TLanes.Sum(sumC, sumD)), floor, ref Unsafe.Add(ref output, row * stride));
        }
    }
}
