using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>What all places of a vertical say together.</summary>
internal static class PlacePool
{
    private const int Lane = 8;

    /// <summary>The mean over all places, and the largest value at any.</summary>
    /// <param name="input">A row of <paramref name="channels"/> for every place.</param>
    /// <param name="channels">A multiple of eight.</param>
    /// <param name="mean">As many numbers.</param>
    /// <param name="top">As many numbers.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void MeanAndTop(ReadOnlySpan<float> input, int channels, Span<float> mean, Span<float> top)
    {
        var share = 1f / (input.Length / channels);
        _ = mean[channels - 1];
        _ = top[channels - 1];
        for (var c = 0; c < channels; c += Lane)
        {
            var sum = Vector256.LoadUnsafe(in input[c]);
            var most = sum;
            for (var at = c + channels; at < input.Length; at += channels)
            {
                var own = Vector256.LoadUnsafe(ref Unsafe.Add(ref MemoryMarshal.GetReference(input), at));
                sum += own;
                most = Vector256.MaxNative(most, own);
            }

            (sum * share).StoreUnsafe(ref mean[c]);
            most.StoreUnsafe(ref top[c]);
        }
    }

    /// <summary>Three sums over all places, each place weighed by the shares given, and the largest value at any, one after the other.</summary>
    /// <param name="input">A row of <paramref name="channels"/> for every place.</param>
    /// <param name="channels">A multiple of eight.</param>
    /// <param name="first">Shares of the places in the first sum.</param>
    /// <param name="second">In the second.</param>
    /// <param name="third">In the third.</param>
    /// <param name="output">Four times as many numbers as channels.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void SharesAndTop(
        ReadOnlySpan<float> input, int channels, ReadOnlySpan<float> first, ReadOnlySpan<float> second, ReadOnlySpan<float> third, Span<float> output)
    {
        for (var c = 0; c < channels; c += Lane)
        {
            Vector256<float> a = default, b = default, d = default;
            var most = Vector256.LoadUnsafe(in input[c]);
            for (int place = 0, at = c; at < input.Length; place++, at += channels)
            {
                var own = Vector256.LoadUnsafe(ref Unsafe.Add(ref MemoryMarshal.GetReference(input), at));
                a = Vector256.MultiplyAddEstimate(own, Vector256.Create(first[place]), a);
                b = Vector256.MultiplyAddEstimate(own, Vector256.Create(second[place]), b);
                d = Vector256.MultiplyAddEstimate(own, Vector256.Create(third[place]), d);
                most = Vector256.MaxNative(most, own);
            }

            a.StoreUnsafe(ref output[c]);
            b.StoreUnsafe(ref output[channels + c]);
            d.StoreUnsafe(ref output[(2 * channels) + c]);
            most.StoreUnsafe(ref output[(3 * channels) + c]);
        }
    }
}
