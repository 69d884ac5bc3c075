using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The weights of the features. Those of one feature lie together, since most features of a vertical are zero. Immutable.
/// </summary>
internal sealed class FeatureColumns
{
    private const int Panel = 16;
    private const int Lane = 8;

    private readonly sbyte[] _columns;
    private readonly float[] _scales;
    private readonly float[] _bias;
    private readonly int _outputs;

    /// <summary>Lays out the weights.</summary>
    public FeatureColumns(WeightMatrix weights, float[] bias)
    {
        _outputs = weights.Outputs;
        Stride = (_outputs + Panel - 1) / Panel * Panel;
        _columns = new sbyte[weights.Inputs * Stride];
        (_scales, _bias) = (new float[Stride], new float[Stride]);
        weights.Scales.CopyTo(_scales, 0);
        bias.CopyTo(_bias, 0);
        for (var o = 0; o < _outputs; o++) Turn(weights.Row(o), _columns.AsSpan(o), Stride);
    }

    /// <summary>Length of a row of sums: the outputs, rounded up.</summary>
    public int Stride { get; }

    /// <summary>The sums of a vertical's features.</summary>
    /// <param name="features">The features that are not zero.</param>
    /// <param name="sums">Takes <see cref="Stride"/> sums.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Sum(SonorityFeatures.Row features, Span<float> sums)
    {
        var (indices, values) = features;
        sums = sums[..Stride];
        for (var first = 0; first < Stride; first += Panel)
        {
            var (low, high) = (Vector256<float>.Zero, Vector256<float>.Zero);
            for (var i = 0; i < indices.Length; i++)
            {
                var (lower, upper) = Vector256.Widen(Pairs.Widen(ref _columns[(indices[i] * Stride) + first]));
                var value = Vector256.Create(values[i]);
                low = Vector256.FusedMultiplyAdd(Vector256.ConvertToSingle(lower), value, low);
                high = Vector256.FusedMultiplyAdd(Vector256.ConvertToSingle(upper), value, high);
            }

            Store(low, first, sums);
            Store(high, first + Lane, sums);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Turn(ReadOnlySpan<sbyte> row, Span<sbyte> columns, int stride)
    {
        for (var i = 0; i < row.Length; i++) columns[i * stride] = row[i];
    }

    private void Store(Vector256<float> own, int at, Span<float> sums) => Vector256.FusedMultiplyAdd(
        own, Vector256.LoadUnsafe(ref MemoryMarshal.GetArrayDataReference(_scales), (nuint)at),
        Vector256.LoadUnsafe(ref MemoryMarshal.GetArrayDataReference(_bias), (nuint)at)).CopyTo(sums[at..]);
}
