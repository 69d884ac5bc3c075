using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>Layer normalisation, then nothing below zero.</summary>
internal sealed class ClampedNorm(float[] scale, float[] shift)
{
    private const float Epsilon = 1e-5f;

    public void Apply(Span<float> row)
    {
        var mean = TensorPrimitives.Sum<float>(row) / row.Length;
        TensorPrimitives.Subtract(row, mean, row);
        var deviation = MathF.Sqrt((TensorPrimitives.SumOfSquares<float>(row) / row.Length) + Epsilon);
        TensorPrimitives.Divide(row, deviation, row);
        TensorPrimitives.MultiplyAdd(row, scale, shift, row);
        TensorPrimitives.Max(row, 0f, row);
    }
}
