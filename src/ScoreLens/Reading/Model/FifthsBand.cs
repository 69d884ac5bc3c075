using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>A convolution along the line of fifths, one a channel: what every place hears of the places around it. Immutable.</summary>
internal sealed class FifthsBand
{
    private const int Lane = 8;
    private const int Tile = 8;

    // Taps whose weights are held in registers at once; the last few are made up to as many with zeros.
    private const int Group = 4;

    private readonly float[] _taps;
    private readonly float[] _bias;
    private readonly int _kernel;

    /// <summary>Takes some of the channels of a convolution whose weights are given channel by channel.</summary>
    public FifthsBand(ReadOnlySpan<float> weights, ReadOnlySpan<float> bias, int kernel, int from, int count)
    {
        (Channels, _kernel) = (count, kernel);
        _bias = bias.Slice(from, count).ToArray();
        _taps = new float[(kernel + Group - 1) / Group * Group * count];
        for (var c = 0; c < count; c++)
            for (var tap = 0; tap < kernel; tap++)
                _taps[(tap * count) + c] = weights[((from + c) * kernel) + tap];
    }

    /// <summary>How many channels it takes.</summary>
    public int Channels { get; }

    /// <summary>Numbers that <see cref="Sum"/> needs to work in, for so many places.</summary>
    public int MarginedLength(int places) => (places + (_taps.Length / Channels) - 1) * Channels;

    /// <summary>The sums at every place of some verticals.</summary>
    /// <param name="input">The places of each vertical in turn; a row of channels each.</param>
    /// <param name="places">How many a vertical has: eight at least.</param>
    /// <param name="margined">Room to work in: <see cref="MarginedLength"/>.</param>
    /// <param name="output">Rows of <paramref name="stride"/>, of which as many numbers are written as there are channels.</param>
    /// <param name="stride">From one row of the output to the next.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
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
            {
                for (var next = 0; next < places; next += Tile)
                {
                    // The last eight overlap the ones before where they do not come out even.
                    var place = Math.Min(next, places - Tile);
                    Sum8(ref margined[(place * Channels) + c], ref _taps[c], ref _bias[c], _kernel, Channels, ref output[(place * stride) + c], stride);
                }
            }

            if (input.Length > length) output = output[(places * stride)..];
        }
    }

    // Eight channels at eight places: four weights at a time are held for all places.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Sum8(ref float input, ref float taps, ref float bias, int kernel, int channels, ref float output, int stride)
    {
        var a = Vector256.LoadUnsafe(ref bias);
        Vector256<float> b = a, c = a, d = a, e = a, f = a, g = a, h = a;
        ref var place = ref input;
        ref var w = ref taps;
        for (var tap = 0; tap < kernel; tap += Group)
        {
            var w0 = Vector256.LoadUnsafe(ref w);
            var w1 = Vector256.LoadUnsafe(ref Unsafe.Add(ref w, channels));
            var w2 = Vector256.LoadUnsafe(ref Unsafe.Add(ref w, 2 * channels));
            var w3 = Vector256.LoadUnsafe(ref Unsafe.Add(ref w, 3 * channels));
            w = ref Unsafe.Add(ref w, Group * channels);
            a = Hear(a, ref place, channels, w0, w1, w2, w3);
            b = Hear(b, ref Unsafe.Add(ref place, channels), channels, w0, w1, w2, w3);
            c = Hear(c, ref Unsafe.Add(ref place, 2 * channels), channels, w0, w1, w2, w3);
            d = Hear(d, ref Unsafe.Add(ref place, 3 * channels), channels, w0, w1, w2, w3);
            e = Hear(e, ref Unsafe.Add(ref place, 4 * channels), channels, w0, w1, w2, w3);
            f = Hear(f, ref Unsafe.Add(ref place, 5 * channels), channels, w0, w1, w2, w3);
            g = Hear(g, ref Unsafe.Add(ref place, 6 * channels), channels, w0, w1, w2, w3);
            h = Hear(h, ref Unsafe.Add(ref place, 7 * channels), channels, w0, w1, w2, w3);
            place = ref Unsafe.Add(ref place, Group * channels);
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

    // What one place hears of four places in a row.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Hear(
        Vector256<float> sum, ref float from, int channels, Vector256<float> w0, Vector256<float> w1, Vector256<float> w2, Vector256<float> w3)
    {
        sum = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref from), w0, sum);
        sum = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref Unsafe.Add(ref from, channels)), w1, sum);
        sum = Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref Unsafe.Add(ref from, 2 * channels)), w2, sum);
        return Vector256.MultiplyAddEstimate(Vector256.LoadUnsafe(ref Unsafe.Add(ref from, 3 * channels)), w3, sum);
    }
}
