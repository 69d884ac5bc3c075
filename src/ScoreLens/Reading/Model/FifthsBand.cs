using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>A convolution along the line of fifths, one a channel, its weights tap by tap.</summary>
internal sealed class FifthsBand
{
    public FifthsBand(float[] weights, float[] bias, int kernel)
    {
        Bias = bias;
        Taps = new float[weights.Length];
        for (var c = 0; c < bias.Length; c++)
            for (var tap = 0; tap < kernel; tap++)
                Taps[(tap * bias.Length) + c] = weights[(c * kernel) + tap];
    }

    private float[] Taps { get; }

    private float[] Bias { get; }

    /// <summary>Bias and the products of neighbouring places with the taps from the first on.</summary>
    public void Sum(ReadOnlySpan<float> places, int first, Span<float> sum)
    {
        var size = Bias.Length;
        var weights = Taps.AsSpan(first * size, places.Length);
        var c = 0;
        // Four sums at once, that do not wait for each other.
        for (; c + (4 * Vector256<float>.Count) <= size; c += 4 * Vector256<float>.Count)
        {
            var s0 = Vector256.Create<float>(Bias.AsSpan(c, 8));
            var s1 = Vector256.Create<float>(Bias.AsSpan(c + 8, 8));
            var s2 = Vector256.Create<float>(Bias.AsSpan(c + 16, 8));
            var s3 = Vector256.Create<float>(Bias.AsSpan(c + 24, 8));
            for (var at = c; at < places.Length; at += size)
            {
                ref readonly var x = ref places[at];
                ref readonly var w = ref weights[at];
                s0 = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(in x), Vector256.LoadUnsafe(in w), s0);
                s1 = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(in x, 8), Vector256.LoadUnsafe(in w, 8), s1);
                s2 = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(in x, 16), Vector256.LoadUnsafe(in w, 16), s2);
                s3 = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(in x, 24), Vector256.LoadUnsafe(in w, 24), s3);
            }

            s0.CopyTo(sum[c..]);
            s1.CopyTo(sum[(c + 8)..]);
            s2.CopyTo(sum[(c + 16)..]);
            s3.CopyTo(sum[(c + 24)..]);
        }

        for (; c + Vector256<float>.Count <= size; c += Vector256<float>.Count)
        {
            var total = Vector256.Create<float>(Bias.AsSpan(c, Vector256<float>.Count));
            for (var at = c; at < places.Length; at += size)
                total = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(in places[at]), Vector256.LoadUnsafe(in weights[at]), total);
            total.CopyTo(sum[c..]);
        }

        for (; c < size; c++)
        {
            var total = Bias[c];
            for (var at = c; at < places.Length; at += size) total = MathF.FusedMultiplyAdd(places[at], weights[at], total);
            sum[c] = total;
        }
    }
}
