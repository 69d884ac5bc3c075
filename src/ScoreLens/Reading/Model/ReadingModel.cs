using System.Buffers.Binary;
using System.Numerics.Tensors;
using System.Text.Json;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Model;

/// <summary>
/// The learned network: from the features of verticals to factor scores. A linear layer over the sparse features, a
/// convolution over three verticals, bidirectional recurrent layers, and a linear layer. Immutable; safe to share.
/// </summary>
internal sealed class ReadingModel
{
    private const string Resource = "ScoreLens.Reading.Model.weights.bin";
    private const float NormEpsilon = 1e-5f;
    private static readonly Lazy<ReadingModel> Embedded = new(LoadEmbedded);

    private readonly int _front;
    private readonly int _hidden;
    private readonly PackedMatrix _first;
    private readonly float[] _normScale;
    private readonly float[] _normShift;
    private readonly PackedMatrix _convolution;
    private readonly (PackedMatrix Input, PackedMatrix Recurrent)[][] _recurrent;
    private readonly PackedMatrix _last;

    private ReadingModel(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith("SLRM"u8)) throw new InvalidDataException("Not a reading model.");
        var length = BinaryPrimitives.ReadInt32LittleEndian(file[4..]);
        using var header = JsonDocument.Parse(file.Slice(8, length).ToArray());
        var root = header.RootElement;
        var data = file[(8 + length)..].ToArray();
        _front = root.GetProperty("front").GetInt32();
        _hidden = root.GetProperty("hidden").GetInt32();
        var arrays = root.GetProperty("arrays").EnumerateArray().ToDictionary(a => a.GetProperty("name").GetString()!, a => a.GetProperty("at").GetInt32());
        Vocabulary = new NumeralVocabulary([.. root.GetProperty("vocabulary").EnumerateArray().Select(ReadClass)]);
        _first = new PackedMatrix(Read("first.weight", _front * SonorityFeatures.Width), Read("first.bias", _front), _front, SonorityFeatures.Width);
        _normScale = Read("norm.weight", _front);
        _normShift = Read("norm.bias", _front);
        _convolution = Convolution(Read("conv.weight", _front * _front * 3), Read("conv.bias", _front));
        _recurrent = new (PackedMatrix, PackedMatrix)[root.GetProperty("layers").GetInt32()][];
        for (var layer = 0; layer < _recurrent.Length; layer++)
        {
            var inputs = layer == 0 ? _front : 2 * _hidden;
            _recurrent[layer] = [Direction(layer, "", inputs), Direction(layer, "_reverse", inputs)];
        }

        var outputs = Vocabulary.Outputs;
        _last = new PackedMatrix(Read("last.weight", outputs * 2 * _hidden), Read("last.bias", outputs), outputs, 2 * _hidden);

        (PackedMatrix, PackedMatrix) Direction(int layer, string suffix, int inputs) => (
            new PackedMatrix(Read($"gru.weight_ih_l{layer}{suffix}", 3 * _hidden * inputs), Read($"gru.bias_ih_l{layer}{suffix}", 3 * _hidden), 3 * _hidden, inputs),
            new PackedMatrix(Read($"gru.weight_hh_l{layer}{suffix}", 3 * _hidden * _hidden), Read($"gru.bias_hh_l{layer}{suffix}", 3 * _hidden), 3 * _hidden, _hidden));

        float[] Read(string name, int count)
        {
            var values = new float[count];
            var at = arrays[name] * 2;
            for (var i = 0; i < count; i++) values[i] = (float)BinaryPrimitives.ReadHalfLittleEndian(data.AsSpan(at + (2 * i)));
            return values;
        }
    }

    /// <summary>The model that the library carries.</summary>
    public static ReadingModel Default => Embedded.Value;

    /// <summary>The numerals that it knows and where their factors stand.</summary>
    public NumeralVocabulary Vocabulary { get; }

    /// <summary>Reads a weights file.</summary>
    public static ReadingModel Parse(ReadOnlySpan<byte> file) => new(file);

    /// <summary>Length of a row of <see cref="Run"/>.</summary>
    public int OutputStride => _last.Stride;

    /// <summary>The factor scores of every vertical, in rows of <see cref="OutputStride"/>.</summary>
    public float[] Run(IReadOnlyList<SonorityFeatures.Row> rows)
    {
        var count = rows.Count;
        if (count == 0) return [];
        var hidden = Convolve(Front(rows), count);
        var width = _front;
        foreach (var layer in _recurrent)
        {
            hidden = Recur(layer, hidden, width, count);
            width = 2 * _hidden;
        }

        var output = new float[count * _last.Stride];
        _last.Multiply(hidden, width, count, output);
        return output;
    }

    // One row of zeros before the first vertical and one after the last, for the convolution.
    private float[] Front(IReadOnlyList<SonorityFeatures.Row> rows)
    {
        var output = new float[((rows.Count + 2) * _front) + _first.Stride];
        for (var t = 0; t < rows.Count; t++)
        {
            var row = output.AsSpan((t + 1) * _front, _first.Stride);
            _first.CopyBias(row);
            var (indices, values) = rows[t];
            for (var i = 0; i < indices.Length; i++) _first.AddInput(indices[i], values[i], row);
            row = row[.._front];
            var mean = TensorPrimitives.Sum<float>(row) / _front;
            TensorPrimitives.Subtract(row, mean, row);
            var scale = 1 / MathF.Sqrt((TensorPrimitives.SumOfSquares<float>(row) / _front) + NormEpsilon);
            TensorPrimitives.Multiply(row, scale, row);
            TensorPrimitives.MultiplyAdd(row, _normScale, _normShift, row);
            TensorPrimitives.Max(row, 0f, row);
        }

        output.AsSpan((rows.Count + 1) * _front).Clear();
        return output;
    }

    private float[] Convolve(float[] padded, int count)
    {
        var convolved = new float[count * _convolution.Stride];
        // Three neighbouring rows are one input row of three times the width.
        _convolution.Multiply(padded, _front, count, convolved);
        var output = new float[count * _front];
        for (var t = 0; t < count; t++)
        {
            var sum = output.AsSpan(t * _front, _front);
            TensorPrimitives.Max(convolved.AsSpan(t * _convolution.Stride, _front), 0f, sum);
            TensorPrimitives.Add(sum, padded.AsSpan((t + 1) * _front, _front), sum);
        }

        return output;
    }

    private float[] Recur((PackedMatrix Input, PackedMatrix Recurrent)[] directions, float[] input, int width, int count)
    {
        var output = new float[count * 2 * _hidden];
        for (var direction = 0; direction < 2; direction++)
        {
            var (fromInput, fromState) = directions[direction];
            var gates = new float[count * fromInput.Stride];
            fromInput.Multiply(input, width, count, gates);
            var state = new float[_hidden];
            var recurrent = new float[fromState.Stride];
            for (var step = 0; step < count; step++)
            {
                var t = direction == 0 ? step : count - 1 - step;
                fromState.Multiply1(state, recurrent);
                Gate(gates.AsSpan(t * fromInput.Stride, 3 * _hidden), recurrent, state);
                state.CopyTo(output.AsSpan((t * 2 * _hidden) + (direction * _hidden)));
            }
        }

        return output;
    }

    // A gated recurrent unit: r and z decide how much of the state goes into the candidate and how much of it stays.
    private void Gate(Span<float> input, Span<float> recurrent, float[] state)
    {
        var both = input[..(2 * _hidden)];
        TensorPrimitives.Add(both, recurrent[..(2 * _hidden)], both);
        TensorPrimitives.Sigmoid(both, both);
        var reset = both[.._hidden];
        var keep = both[_hidden..];
        var candidate = input[(2 * _hidden)..];
        TensorPrimitives.MultiplyAdd(reset, recurrent.Slice(2 * _hidden, _hidden), candidate, candidate);
        TensorPrimitives.Tanh(candidate, candidate);
        TensorPrimitives.Subtract(state, candidate, state);
        TensorPrimitives.MultiplyAdd(state, keep, candidate, state);
    }

    // From outputs × inputs × 3 to outputs × (3 × inputs): the row before, this row, the row after.
    private PackedMatrix Convolution(float[] weights, float[] bias)
    {
        var flat = new float[weights.Length];
        for (var o = 0; o < _front; o++)
            for (var i = 0; i < _front; i++)
                for (var k = 0; k < 3; k++)
                    flat[(o * 3 * _front) + (k * _front) + i] = weights[(((o * _front) + i) * 3) + k];
        return new PackedMatrix(flat, bias, _front, 3 * _front);
    }

    private static NumeralClass ReadClass(JsonElement e) => new(
        (Mode)e[0].GetInt32(),
        e[1].GetInt32(),
        e[2].ValueKind == JsonValueKind.Null ? null : e[2].GetInt32(),
        (ChordQuality)e[3].GetInt32(),
        e[4].GetInt32());

    private static ReadingModel LoadEmbedded()
    {
        using var stream = typeof(ReadingModel).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidDataException("The library was built without its reading model.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return new ReadingModel(bytes);
    }
}
