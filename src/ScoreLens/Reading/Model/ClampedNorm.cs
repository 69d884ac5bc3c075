using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>Layer normalisation of rows of a multiple of eight numbers, then nothing below zero. Immutable.</summary>
internal sealed class ClampedNorm(float[] scale, float[] shift)
{
    private const float Epsilon = 1e-5f;

    /// <summary>Normalises row after row; the output may be the input.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Apply(ReadOnlySpan<float> input, Span<float> output)
    {
        var size = (nuint)scale.Length;
        var share = 1f / scale.Length;
        ref var gain = ref MemoryMarshal.GetArrayDataReference(scale);
        ref var offset = ref MemoryMarshal.GetArrayDataReference(shift);
        _ = output[..input.Length];
        for (var at = 0; at + scale.Length <= input.Length; at += scale.Length)
        {
            ref var x = ref Unsafe.Add(ref MemoryMarshal.GetReference(input), at);
            ref var y = ref Unsafe.Add(ref MemoryMarshal.GetReference(output), at);
            var sum = Vector256<float>.Zero;
            for (nuint i = 0; i < size; i += 8) sum += Vector256.LoadUnsafe(ref x, i);
            var mean = Vector256.Create(Vector256.Sum(sum) * share);
            var squares = Vector256<float>.Zero;
            for (nuint i = 0; i < size; i += 8)
            {
                var apart = Vector256.LoadUnsafe(ref x, i) - mean;
                squares = Vector256.FusedMultiplyAdd(apart, apart, squares);
            }

            var inverse = Vector256.Create(1 / MathF.Sqrt((Vector256.Sum(squares) * share) + Epsilon));
            for (nuint i = 0; i < size; i += 8)
            {
                var unit = (Vector256.LoadUnsafe(ref x, i) - mean) * inverse;
                var scaled = Vector256.FusedMultiplyAdd(unit, Vector256.LoadUnsafe(ref gain, i), Vector256.LoadUnsafe(ref offset, i));
                Vector256.MaxNative(scaled, Vector256<float>.Zero).StoreUnsafe(ref y, i);
            }
        }
    }
}
