using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The first layer: at every place the sum over the planes within reach. Hardly a feature is not zero, so only those that are not are
/// walked through: in the order of their places, so that what a stretch of the output hears of is a range of them. Immutable.
/// </summary>
internal sealed class PlaneBand
{
    private const int Lane = 8;

    // Numbers of the output that are summed at once; they may belong to several places.
    private const int Chunk = 8 * Lane;

    private readonly int _channels;
    private readonly int _kernel;
    private readonly int _window;
    private readonly int _edge;
    private readonly int _margin;
    private readonly int _rows;
    private readonly float[] _weights;
    private readonly float[] _bias;
    private readonly float[] _scalars;

    /// <summary>Takes a convolution's weights as channels × planes × taps, and those of the scalars as channels × scalars.</summary>
    public PlaneBand(float[] weights, float[] bias, float[] scalars, float[] scalarBias, int kernel, int window)
    {
        (_channels, _kernel, _window, _edge) = (bias.Length, kernel, window, (SonorityFeatures.Places - window) / 2);
        _bias = [.. bias.Zip(scalarBias, (a, b) => a + b)];

        // From planes × places reached × channels: the last tap reaches the lowest place. Nothing comes from beyond the taps, so that a
        // feature out of reach of one place of a chunk but not of another needs no case of its own.
        _margin = (Chunk / _channels) + 1;
        _rows = kernel + (2 * _margin);
        _weights = new float[SonorityFeatures.Planes * _rows * _channels];
        for (var c = 0; c < _channels; c++)
            for (var plane = 0; plane < SonorityFeatures.Planes; plane++)
                for (var tap = 0; tap < kernel; tap++)
                    _weights[(((plane * _rows) + _margin + kernel - 1 - tap) * _channels) + c] = weights[(((c * SonorityFeatures.Planes) + plane) * kernel) + tap];

        _scalars = new float[scalars.Length];
        for (var c = 0; c < _channels; c++)
            for (var s = 0; s < SonorityFeatures.Scalars; s++)
                _scalars[(s * _channels) + c] = scalars[(c * SonorityFeatures.Scalars) + s];
    }

    /// <summary>The sums of a vertical: a row of channels for every place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Sum(SonorityFeatures.Row row, Span<float> output)
    {
        var (indices, values) = row;
        const int places = SonorityFeatures.Places;

        // Sorted by place, with the weight row that each would have at place 0.
        Span<int> ends = stackalloc int[places + 1];
        ends.Clear();
        var features = 0;
        while (features < indices.Length && indices[features] < SonorityFeatures.Planes * places) ends[(indices[features++] % places) + 1]++;
        for (var place = 0; place < places; place++) ends[place + 1] += ends[place];
        Span<int> at = stackalloc int[places];
        ends[..places].CopyTo(at);
        Span<int> offsets = stackalloc int[features];
        Span<float> sorted = stackalloc float[features];
        for (var i = 0; i < features; i++)
        {
            var (plane, place) = Math.DivRem((int)indices[i], places);
            var to = at[place]++;
            offsets[to] = ((plane * _rows) + _margin + (_kernel / 2) + _edge - place) * _channels;
            sorted[to] = values[i];
        }

        Span<float> common = stackalloc float[_channels];
        Common(indices.AsSpan(features), values.AsSpan(features), common);
        for (var place = 0; place < _window; place++) common.CopyTo(output[(place * _channels)..]);
        var length = _window * _channels;
        for (var start = 0; start < length; start += Chunk)
        {
            var count = Math.Min(Chunk, length - start);
            var lowest = Math.Max(0, (start / _channels) + _edge - (_kernel / 2));
            var highest = Math.Min(places - 1, ((start + count - 1) / _channels) + _edge + (_kernel / 2));
            var (from, to) = (ends[lowest], ends[highest + 1]);
            if (count == Chunk) Add(offsets[from..to], sorted[from..to], ref _weights[0], start, ref output[start]);
            else
            {
                for (var lane = start; lane < length; lane += Lane) AddLane(offsets[from..to], sorted[from..to], lane, ref output[lane]);
            }
        }
    }

    // What the scalars say, alike for all places.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Common(ReadOnlySpan<ushort> indices, ReadOnlySpan<float> values, Span<float> common)
    {
        for (var c = 0; c < common.Length; c += Lane)
        {
            var sum = Vector256.LoadUnsafe(ref _bias[c]);
            for (var i = 0; i < indices.Length; i++)
            {
                var at = ((indices[i] - (SonorityFeatures.Planes * SonorityFeatures.Places)) * _channels) + c;
                sum = Vector256.MultiplyAddEstimate(Vector256.Create(values[i]), Vector256.LoadUnsafe(ref _scalars[at]), sum);
            }

            sum.StoreUnsafe(ref common[c]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Add(ReadOnlySpan<int> offsets, ReadOnlySpan<float> values, ref float weights, int start, ref float output)
    {
        var a = Vector256.LoadUnsafe(ref output);
        var b = Vector256.LoadUnsafe(ref output, 8);
        var c = Vector256.LoadUnsafe(ref output, 16);
        var d = Vector256.LoadUnsafe(ref output, 24);
        var e = Vector256.LoadUnsafe(ref output, 32);
        var f = Vector256.LoadUnsafe(ref output, 40);
        var g = Vector256.LoadUnsafe(ref output, 48);
        var h = Vector256.LoadUnsafe(ref output, 56);
        ref var here = ref Unsafe.Add(ref weights, start);
        for (var i = 0; i < offsets.Length; i++)
        {
            ref var w = ref Unsafe.Add(ref here, offsets[i]);
            var x = Vector256.Create(values[i]);
            a = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w), a);
            b = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 8), b);
            c = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 16), c);
            d = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 24), d);
            e = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 32), e);
            f = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 40), f);
            g = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 48), g);
            h = Vector256.MultiplyAddEstimate(x, Vector256.LoadUnsafe(ref w, 56), h);
        }

        a.StoreUnsafe(ref output);
        b.StoreUnsafe(ref output, 8);
        c.StoreUnsafe(ref output, 16);
        d.StoreUnsafe(ref output, 24);
        e.StoreUnsafe(ref output, 32);
        f.StoreUnsafe(ref output, 40);
        g.StoreUnsafe(ref output, 48);
        h.StoreUnsafe(ref output, 56);
    }

    private void AddLane(ReadOnlySpan<int> offsets, ReadOnlySpan<float> values, int start, ref float output)
    {
        var sum = Vector256.LoadUnsafe(ref output);
        for (var i = 0; i < offsets.Length; i++)
            sum = Vector256.MultiplyAddEstimate(Vector256.Create(values[i]), Vector256.LoadUnsafe(ref _weights[offsets[i] + start]), sum);
        sum.StoreUnsafe(ref output);
    }
}
