namespace ScoreLens.Reading.Model;

/// <summary>
/// A matrix of weights as its file has it: a byte for each, outputs × inputs, and for every output what one is worth. Immutable.
/// </summary>
/// <param name="Numbers">The weights in whole numbers, -127 to 127, a row for each output.</param>
/// <param name="Scales">For every output what a one in its row weighs.</param>
internal sealed record WeightMatrix(sbyte[] Numbers, float[] Scales)
{
    /// <summary>How many outputs.</summary>
    public int Outputs => Scales.Length;

    /// <summary>How many inputs.</summary>
    public int Inputs => Numbers.Length / Scales.Length;

    /// <summary>The weights of an output.</summary>
    public ReadOnlySpan<sbyte> Row(int output) => Numbers.AsSpan(output * Inputs, Inputs);

    /// <summary>The same matrix with the outputs in another order.</summary>
    /// <param name="order">For every place the output that stands there.</param>
    public WeightMatrix WithOutputs(ReadOnlySpan<int> order)
    {
        var (numbers, scales) = (new sbyte[order.Length * Inputs], new float[order.Length]);
        for (var o = 0; o < order.Length; o++)
        {
            Row(order[o]).CopyTo(numbers.AsSpan(o * Inputs));
            scales[o] = Scales[order[o]];
        }

        return new(numbers, scales);
    }

    /// <summary>Some of the inputs, from one on.</summary>
    public WeightMatrix OfInputs(int first, int count)
    {
        var numbers = new sbyte[Outputs * count];
        for (var o = 0; o < Outputs; o++) Row(o).Slice(first, count).CopyTo(numbers.AsSpan(o * count));
        return new(numbers, Scales);
    }
}
