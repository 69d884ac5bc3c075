using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>A convolution along the line of fifths, one a channel: what every place hears of the places around it. Immutable.</summary>
internal sealed class FifthsBand
{
    private const int Lane = 8;
    private const int Tile = 8;
    private readonly float[] _taps;
    private readonly float[] _bias;
    private readonly int _kernel;

    /// <summary>Takes some of the channels of a convolution whose weights are given channel by channel.</summary>
    public FifthsBand(ReadOnlySpan<float> weights, ReadOnlySpan<float> bias, int kernel, int from, int count)
    {
        (Channels, _kernel) = (count, kernel);
        _bias = bias.Slice(from, count).ToArray();
        _taps = new float[kernel * count];
        for (var c = 0; c < count; c++)
            for (var tap = 0; tap < kernel; tap++)
                _taps[(tap * count) + c] = weights[((from + c) * kernel) + tap];
    }

    /// <summary>How many channels it takes.</summary>
    public int Channels { get; }

    /// <summary>Numbers that <see cref="Sum"/> needs to work in, for so many places.</summary>
    public int MarginedLength(int places) => (places + _kernel - 1) * Channels;

    /// <summary>The sums at every place of some verticals.</summary>
    /// <param name="input">The places of each vertical in turn; a row of channels each.</param>
    /// <param name="places">How many a vertical has: eight at least.</param>
    /// <param name="margined">Room to work in: <see cref="MarginedLength"/>.</param>
    /// <param name="output">Rows of <paramref name="stride"/>, of which as many numbers are written as there are channels.</param>
    /// <param name="stride">From one row of the output to the next.</param>
    public void Sum(ReadOnlySpan<float> input, int places, Span<float> margined, Span<float> output, int stride)
    {
        var length = places * Channels;
        var margin = _kernel / 2 * Channels;
        margined = margined[..MarginedLength(places)];
        margined.Clear();
        for (; input.Length > 0; input = input[length..])
        {
            input[..length].CopyTo(margined[margin..]);
            _ = output[((places - 1) * stride) + Channels - 1];
            for (var c = 0; c < Channels; c += Lane)
                for (var next = 0; next < places; next += Tile)
                {
                    // The last eight overlap the ones before where they do not come out even.
                    var place = Math.Min(next, places - Tile);
                    Sum8(ref margined[(place * Channels) + c], ref _taps[c], ref _bias[c], _kernel, Channels, ref output[(place * stride) + c], stride);
                }

            if (input.Length > length) output = output[(places * stride)..];
        }
    }

    // Eight channels at eight places: every weight is loaded once for all places.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Sum8(ref float input, ref float taps, ref float bias, int kernel, int channels, ref float output, int stride)
    {
        var a = Vector256.LoadUnsafe(ref bias);
        Vector256<float> b = a, c = a, d = a, e = a, f = a, g = a, h = a;
        ref var x = ref input;
        ref var w = ref taps;
        var row = (nuint)channels;
        for (var tap = 0; tap < kernel; tap++)
        {
            var weight = Vector256.LoadUnsafe(ref w);
            a = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x), weight, a);
            b = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, row), weight, b);
            c = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(2 * row)), weight, c);
            d = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(3 * row)), weight, d);
            e = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(4 * row)), weight, e);
            f = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(5 * row)), weight, f);
            g = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(6 * row)), weight, g);
            h = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref x, unchecked(7 * row)), weight, h);
            w = ref Unsafe.Add(ref w, row);
            x = ref Unsafe.Add(ref x, row);
        }

        a.StoreUnsafe(ref output);
        b.StoreUnsafe(ref Unsafe.Add(ref output, stride));
        c.StoreUnsafe(ref Unsafe.Add(ref output, 2 * stride));
        d.StoreUnsafe(ref Unsafe.Add(ref output, 3 * stride));
        e.StoreUnsafe(ref Unsafe.Add(ref output, 4 * stride));
        f.StoreUnsafe(ref Unsafe.Add(ref output, 5 * stride));
        g.StoreUnsafe(ref Unsafe.Add(ref output, 6 * stride));
        h.StoreUnsafe(ref Unsafe.Add(ref output, 7 * stride));
    }
}
