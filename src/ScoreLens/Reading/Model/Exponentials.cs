using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// Exponentials of many numbers, several at once. A score is read once and soon, before a running program has made its
/// loops fast; what is summed here is fast from the first call on.
/// </summary>
internal static class Exponentials
{
    private const int Lane = 8;

    /// <summary>The largest of one or more numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float Top(ReadOnlySpan<float> values)
    {
        var top = values[0];
        var at = 0;
        if (values.Length >= Lane)
        {
            var tops = Vector256.Create(values);
            for (at = Lane; at + Lane <= values.Length; at += Lane) tops = Vector256.Max(tops, Vector256.Create(values.Slice(at, Lane)));
            for (var lane = 0; lane < Lane; lane++) top = Math.Max(top, tops[lane]);
        }

        for (; at < values.Length; at++) top = Math.Max(top, values[at]);
        return top;
    }

    /// <summary>The exponentials of what numbers lie below the largest of them, each in 0..1; gives the largest.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float BelowTop(ReadOnlySpan<float> values, Span<double> powers)
    {
        var top = Top(values);
        var tops = Vector256.Create((double)top);
        var at = 0;
        for (; at + Lane <= values.Length; at += Lane)
        {
            var (lower, upper) = Vector256.Widen(Vector256.Create(values.Slice(at, Lane)));
            Vector256.Exp(lower - tops).CopyTo(powers[at..]);
            Vector256.Exp(upper - tops).CopyTo(powers[(at + (Lane / 2))..]);
        }

        for (; at < values.Length; at++) powers[at] = Math.Exp((double)values[at] - top);
        return top;
    }

    /// <summary>Puts the exponentials of numbers in their place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void InPlace(Span<double> values)
    {
        const int Doubles = Lane / 2;
        var at = 0;
        for (; at + Doubles <= values.Length; at += Doubles)
        {
            var four = values.Slice(at, Doubles);
            Vector256.Exp(Vector256.Create<double>(four)).CopyTo(four);
        }

        foreach (ref var value in values[at..]) value = Math.Exp(value);
    }

    /// <summary>The logarithm of the sum of the exponentials of one or more numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double LogSum(ReadOnlySpan<float> values)
    {
        var top = Top(values);
        var tops = Vector256.Create(top);
        var sums = Vector256<float>.Zero;
        var at = 0;
        for (; at + Lane <= values.Length; at += Lane) sums += Vector256.Exp(Vector256.Create(values.Slice(at, Lane)) - tops);
        double sum = Vector256.Sum(sums);
        for (; at < values.Length; at++) sum += Math.Exp((double)values[at] - top);
        return top + Math.Log(sum);
    }

    /// <summary>The same of numbers of which not all are minus infinity.</summary>
    public static double LogSum(ReadOnlySpan<double> values)
    {
        var top = double.NegativeInfinity;
        foreach (var value in values) top = Math.Max(top, value);
        double sum = 0;
        foreach (var value in values)
            if (value > double.NegativeInfinity) sum += Math.Exp(value - top);
        return top + Math.Log(sum);
    }
}
