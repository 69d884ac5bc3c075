using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// Rows of numbers in sixteen bits: what a <see cref="PackedMatrix"/> multiplies. A number of a row is a whole number times the row's step.
/// </summary>
/// <param name="Numbers">Where they lie.</param>
/// <param name="Start">Where the first row starts.</param>
/// <param name="Stride">From one row to the next.</param>
/// <param name="Steps">The steps of rows.</param>
/// <param name="FirstStep">Where that of the first row stands.</param>
internal readonly record struct Quantised(short[] Numbers, int Start, int Stride, float[] Steps, int FirstStep)
{
    /// <summary>The largest whole number: with fourteen bits the sum of a thousand products fits thirty-two.</summary>
    public const int Most = 1 << 14;

    /// <summary>The step of numbers that lie in -1..1, as states do.</summary>
    public const float OfOne = 1f / Most;

    private const int Lane = 8;

    // What is smaller counts as nothing: its inverse could not be reckoned.
    private const float Least = 1e-30f;

    // Added to a number it leaves the nearest whole number in the lowest bits, whatever the processor rounds by.
    private const float Rounding = 3 << 22;

    /// <summary>The same rows from another one on.</summary>
    public Quantised From(int row) => this with { Start = Start + (row * Stride), FirstStep = FirstStep + row };

    /// <summary>Eight numbers in steps, rounded to the nearest.</summary>
    /// <param name="numbers">The numbers.</param>
    /// <param name="inverse">How many steps one is.</param>
    /// <param name="to">Where they go.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Round(Vector256<float> numbers, Vector256<float> inverse, ref short to)
    {
        var rounding = Vector256.Create(Rounding);
        var whole = ((numbers * inverse) + rounding).AsInt32() - rounding.AsInt32();
        Vector128.Narrow(whole.GetLower(), whole.GetUpper()).StoreUnsafe(ref to);
    }

    /// <summary>Rounds a row of a multiple of eight numbers, its largest to <see cref="Most"/>; gives the step.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float Round(ReadOnlySpan<float> row, Span<short> to)
    {
        ref var x = ref MemoryMarshal.GetReference(row);
        ref var y = ref MemoryMarshal.GetReference(to[..row.Length]);
        var tops = Vector256<float>.Zero;
        for (nuint i = 0; i < (nuint)row.Length; i += Lane) tops = Vector256.MaxNative(tops, Vector256.Abs(Vector256.LoadUnsafe(ref x, i)));
        var top = 0f;
        for (var i = 0; i < Lane; i++) top = Math.Max(top, tops[i]);
        if (top < Least)
        {
            to[..row.Length].Clear();
            return 0;
        }

        var inverse = Vector256.Create(Most / top);
        for (nuint i = 0; i < (nuint)row.Length; i += Lane) Round(Vector256.LoadUnsafe(ref x, i), inverse, ref Unsafe.Add(ref y, i));
        return top / Most;
    }
}
