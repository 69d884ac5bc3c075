using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// One learned network: from the features of verticals to factor scores. It does the same for every place on the line of
/// fifths, so that what it has learned about one key it knows of all. Each place has a recurrent state of its own, first over
/// beats and then over verticals; places hear of each other through bands along the line and through sums over all of them.
/// Immutable; safe to share.
/// </summary>
internal sealed class PlaceNetwork
{
    private const float Outside = -12;
    private const int Layers = 2;

    // A long score is read in spans that overlap, so that memory stays bounded; what lies farther off does not matter.
    private const int Span = 1024;
    private const int Overlap = 96;

    private readonly int _window;
    private readonly int _edge;
    private readonly int _channels;
    private readonly int _hidden;
    private readonly int _kernel;
    private readonly int _tail;
    private readonly float[] _first;
    private readonly float[] _firstBias;
    private readonly PackedMatrix _scalars;
    private readonly ClampedNorm _norm;
    private readonly PackedMatrix _neighbours;
    private readonly Layer[] _layers;
    private readonly FifthsBand _lastBand;
    private readonly PackedMatrix _lastPoint;
    private readonly PackedMatrix _places;
    private readonly PackedMatrix _restIn;
    private readonly PackedMatrix _restOut;

    /// <summary>Builds a network from its sizes and its arrays by name.</summary>
    public PlaceNetwork(int channels, int hidden, int tail, int kernel, int window, int outputs, Func<string, float[]> read)
    {
        (_channels, _hidden, _tail, _kernel, _window) = (channels, hidden, tail, kernel, window);
        _edge = (SonorityFeatures.Places - window) / 2;
        _first = ByPlace(read("first.weight"));
        _firstBias = read("first.bias");
        _scalars = Matrix("scalars", channels, SonorityFeatures.Scalars);
        _norm = new ClampedNorm(read("norm.weight"), read("norm.bias"));
        _neighbours = Matrix("conv", channels, 3 * channels);
        _layers = new Layer[Layers];
        var size = channels;
        for (var i = 0; i < Layers; i++)
        {
            _layers[i] = new Layer(
                new FifthsBand(read($"along.{i}.weight"), read($"along.{i}.bias"), kernel),
                Matrix($"point.{i}", channels, 2 * size),
                Matrix($"whole.{i}", channels, 2 * size),
                new ClampedNorm(read($"norms.{i}.weight"), read($"norms.{i}.bias")),
                [Direction(i, ""), Direction(i, "_reverse")]);
            size = channels + (2 * hidden);
        }

        _lastBand = new FifthsBand(read($"along.{Layers}.weight"), read($"along.{Layers}.bias"), kernel);
        _lastPoint = Matrix($"point.{Layers}", tail, 2 * size);
        _places = Matrix("places", 5, tail);
        _restIn = Matrix("rest.0", 2 * tail, 4 * tail);
        _restOut = Matrix("rest.3", outputs - (5 * SonorityFeatures.Places), 2 * tail);

        PackedMatrix Matrix(string name, int rows, int columns) => new(read(name + ".weight"), read(name + ".bias"), rows, columns);

        Direction Direction(int layer, string suffix)
        {
            var (input, inputBias) = (read($"grus.{layer}.weight_ih_l0{suffix}"), read($"grus.{layer}.bias_ih_l0{suffix}"));
            var (state, stateBias) = (read($"grus.{layer}.weight_hh_l0{suffix}"), read($"grus.{layer}.bias_hh_l0{suffix}"));
            return new Direction([.. Gates(input, inputBias, channels)], [.. Gates(state, stateBias, hidden)]);
        }

        IEnumerable<PackedMatrix> Gates(float[] weights, float[] bias, int inputs)
        {
            for (var gate = 0; gate < 3; gate++)
                yield return new PackedMatrix(weights.AsSpan(gate * hidden * inputs, hidden * inputs), bias.AsSpan(gate * hidden, hidden), hidden, inputs);
        }
    }

    /// <summary>Adds the factor scores of every vertical to rows of a given length.</summary>
    public void AddTo(ReadOnlySpan<SonorityFeatures.Row> rows, ReadOnlySpan<Moment> moments, Span<float> output, int stride)
    {
        for (var start = 0; start < rows.Length; start += Span)
        {
            var from = Math.Max(0, start - Overlap);
            var to = Math.Min(rows.Length, start + Span + Overlap);
            Read(rows[from..to], moments[from..to], start - from, Math.Min(Span, rows.Length - start), output[(start * stride)..], stride);
        }
    }

    private void Read(ReadOnlySpan<SonorityFeatures.Row> rows, ReadOnlySpan<Moment> moments, int skip, int count, Span<float> output, int stride)
    {
        var hidden = Neighbours(Front(rows), rows.Length);
        var size = _channels;
        for (var i = 0; i < Layers; i++)
        {
            hidden = Recur(_layers[i], hidden, size, rows.Length, i == 0 ? moments : default);
            size = _channels + (2 * _hidden);
        }

        var both = new float[_window * 2 * size];
        var tails = new float[_window * _lastPoint.Stride];
        var factors = new float[_window * _places.Stride];
        var whole = new float[4 * _tail];
        var between = new float[_restIn.Stride];
        var rest = new float[_restOut.Stride];
        for (var t = skip; t < skip + count; t++)
        {
            BesideBand(_lastBand, hidden.AsSpan(t * _window * size, _window * size), size, both);
            _lastPoint.Multiply(both, 2 * size, _window, tails);
            TensorPrimitives.Max(tails, 0f, tails);
            _places.Multiply(tails, _lastPoint.Stride, _window, factors);
            Gather(factors, tails, whole);
            _restIn.Multiply1(whole, between);
            TensorPrimitives.Max(between, 0f, between);
            _restOut.Multiply1(between.AsSpan(0, 2 * _tail), rest);
            var row = output.Slice((t - skip) * stride, (5 * SonorityFeatures.Places) + _restOut.Outputs);
            for (var factor = 0; factor < 5; factor++)
            {
                var at = row.Slice(factor * SonorityFeatures.Places, SonorityFeatures.Places);
                for (var place = 0; place < at.Length; place++)
                {
                    var p = place - _edge;
                    at[place] += p < 0 || p >= _window ? Outside : factors[(p * _places.Stride) + factor];
                }
            }

            var others = row[(5 * SonorityFeatures.Places)..];
            TensorPrimitives.Add(others, rest.AsSpan(0, others.Length), others);
        }
    }

    // The features of every place: a band of the planes around it, and the scalars alike for all.
    private float[] Front(ReadOnlySpan<SonorityFeatures.Row> rows)
    {
        const int pitches = SonorityFeatures.Places;
        var length = _window * _channels;
        var output = new float[rows.Length * length];
        var scalars = new float[SonorityFeatures.Scalars];
        var common = new float[_scalars.Stride];
        for (var t = 0; t < rows.Length; t++)
        {
            var row = output.AsSpan(t * length, length);
            var (indices, values) = rows[t];
            Array.Clear(scalars);
            for (var i = 0; i < indices.Length; i++)
            {
                var (plane, place) = (indices[i] / pitches, indices[i] % pitches);
                if (plane >= SonorityFeatures.Planes)
                {
                    scalars[indices[i] - (SonorityFeatures.Planes * pitches)] = values[i];
                    continue;
                }

                // An input reaches a kernel's width of places, whose weights lie in a row.
                var lowest = place - _edge - (_kernel / 2);
                var from = Math.Max(0, lowest);
                var to = Math.Min(_window, lowest + _kernel);
                if (from >= to) continue;
                var weights = _first.AsSpan(((plane * _kernel) + from - lowest) * _channels, (to - from) * _channels);
                var at = row.Slice(from * _channels, weights.Length);
                TensorPrimitives.MultiplyAdd(weights, values[i], at, at);
            }

            _scalars.Multiply1(scalars, common);
            TensorPrimitives.Add(common.AsSpan(0, _channels), _firstBias, common.AsSpan(0, _channels));
            for (var p = 0; p < _window; p++)
            {
                var own = row.Slice(p * _channels, _channels);
                TensorPrimitives.Add(own, common.AsSpan(0, _channels), own);
                _norm.Apply(own);
            }
        }

        return output;
    }

    // Each place with itself in the vertical before and after.
    private float[] Neighbours(float[] input, int count)
    {
        var length = _window * _channels;
        var output = GC.AllocateUninitializedArray<float>(input.Length);
        var three = new float[length * 3];
        var product = new float[_window * _neighbours.Stride];
        for (var t = 0; t < count; t++)
        {
            for (var p = 0; p < _window; p++)
            {
                for (var near = -1; near <= 1; near++)
                {
                    var to = three.AsSpan((p * 3 * _channels) + ((near + 1) * _channels), _channels);
                    if (t + near < 0 || t + near >= count) to.Clear();
                    else input.AsSpan(((t + near) * length) + (p * _channels), _channels).CopyTo(to);
                }
            }

            _neighbours.Multiply(three, 3 * _channels, _window, product);
            TensorPrimitives.Max(product, 0f, product);
            for (var p = 0; p < _window; p++)
            {
                var at = (t * length) + (p * _channels);
                TensorPrimitives.Add(input.AsSpan(at, _channels), product.AsSpan(p * _neighbours.Stride, _channels), output.AsSpan(at, _channels));
            }
        }

        return output;
    }

    // Bands and sums, then the recurrent states of all places in both directions; over beats where moments are given.
    private float[] Recur(Layer layer, float[] input, int size, int count, ReadOnlySpan<Moment> beats)
    {
        var length = _window * _channels;
        var mixed = GC.AllocateUninitializedArray<float>(count * length);
        var both = new float[_window * 2 * size];
        var pooled = new float[2 * size];
        var common = new float[layer.Whole.Stride];
        var product = new float[_window * layer.Point.Stride];
        for (var t = 0; t < count; t++)
        {
            var from = input.AsSpan(t * _window * size, _window * size);
            BesideBand(layer.Band, from, size, both);
            Pool(from, size, pooled);
            layer.Whole.Multiply1(pooled, common);
            layer.Point.Multiply(both, 2 * size, _window, product);
            for (var p = 0; p < _window; p++)
            {
                var at = mixed.AsSpan((t * length) + (p * _channels), _channels);
                TensorPrimitives.Add(product.AsSpan(p * layer.Point.Stride, _channels), common.AsSpan(0, _channels), at);
                layer.Norm.Apply(at);
            }
        }

        var (steps, stepOf) = beats.IsEmpty ? (mixed, null) : Beats(mixed, length, beats);
        var total = steps.Length / length;
        var width = _channels + (2 * _hidden);
        var output = GC.AllocateUninitializedArray<float>(count * _window * width);
        for (var t = 0; t < count; t++)
            for (var p = 0; p < _window; p++)
                mixed.AsSpan((t * length) + (p * _channels), _channels).CopyTo(output.AsSpan(((t * _window) + p) * width));
        for (var direction = 0; direction < 2; direction++)
        {
            var states = States(layer.Directions[direction], steps, total, direction == 1);
            var padded = layer.Directions[direction].State[0].Stride;
            for (var t = 0; t < count; t++)
            {
                var step = stepOf is null ? t : stepOf[t];
                for (var p = 0; p < _window; p++)
                    states.AsSpan(((step * _window) + p) * padded, _hidden).CopyTo(output.AsSpan((((t * _window) + p) * width) + _channels + (direction * _hidden)));
            }
        }

        return output;
    }

    // A gated recurrent unit at every place: reset and keep decide how much of the state goes into the candidate and how much stays.
    private float[] States(Direction direction, float[] input, int count, bool backwards)
    {
        var padded = direction.State[0].Stride;
        var length = _window * padded;
        var gates = new float[3][];
        for (var g = 0; g < 3; g++)
        {
            gates[g] = GC.AllocateUninitializedArray<float>(count * length);
            direction.Input[g].Multiply(input, _channels, count * _window, gates[g]);
        }

        var states = GC.AllocateUninitializedArray<float>(count * length);
        var (reset, keep, candidate) = (new float[length], new float[length], new float[length]);
        var state = new float[length];
        for (var step = 0; step < count; step++)
        {
            var t = backwards ? count - 1 - step : step;
            direction.State[0].Multiply(state, padded, _window, reset);
            direction.State[1].Multiply(state, padded, _window, keep);
            direction.State[2].Multiply(state, padded, _window, candidate);
            TensorPrimitives.Add(reset, gates[0].AsSpan(t * length, length), reset);
            TensorPrimitives.Sigmoid(reset, reset);
            TensorPrimitives.Add(keep, gates[1].AsSpan(t * length, length), keep);
            TensorPrimitives.Sigmoid(keep, keep);
            TensorPrimitives.MultiplyAdd(reset, candidate, gates[2].AsSpan(t * length, length), candidate);
            TensorPrimitives.Tanh(candidate, candidate);
            TensorPrimitives.Subtract(state, candidate, state);
            TensorPrimitives.MultiplyAdd(state, keep, candidate, state);
            state.CopyTo(states.AsSpan(t * length));
        }

        return states;
    }

    // Means of the verticals of each beat, weighed by how long they last.
    private static (float[] Means, int[] BeatOf) Beats(float[] input, int length, ReadOnlySpan<Moment> moments)
    {
        var beatOf = new int[moments.Length];
        for (var t = 1; t < beatOf.Length; t++) beatOf[t] = beatOf[t - 1] + (moments[t].Quarter == moments[t - 1].Quarter ? 0 : 1);
        var count = beatOf[^1] + 1;
        var means = new float[count * length];
        var sums = new float[count];
        for (var t = 0; t < beatOf.Length; t++)
        {
            var mean = means.AsSpan(beatOf[t] * length, length);
            TensorPrimitives.MultiplyAdd(input.AsSpan(t * length, length), moments[t].Weight, mean, mean);
            sums[beatOf[t]] += moments[t].Weight;
        }

        for (var b = 0; b < count; b++)
        {
            var mean = means.AsSpan(b * length, length);
            TensorPrimitives.Divide(mean, sums[b], mean);
        }

        return (means, beatOf);
    }

    // Each place's values, and beside them what the band brings from the places around it.
    private void BesideBand(FifthsBand band, ReadOnlySpan<float> input, int size, float[] both)
    {
        for (var p = 0; p < _window; p++)
        {
            input.Slice(p * size, size).CopyTo(both.AsSpan(p * 2 * size));
            var lowest = p - (_kernel / 2);
            var first = Math.Max(0, -lowest);
            var taps = Math.Min(_kernel, _window - lowest) - first;
            band.Sum(input.Slice((lowest + first) * size, taps * size), first, both.AsSpan((p * 2 * size) + size, size));
        }
    }

    // Mean and maximum over all places.
    private void Pool(ReadOnlySpan<float> input, int size, float[] pooled)
    {
        var mean = pooled.AsSpan(0, size);
        var top = pooled.AsSpan(size, size);
        input[..size].CopyTo(mean);
        input[..size].CopyTo(top);
        for (var p = 1; p < _window; p++)
        {
            TensorPrimitives.Add(mean, input.Slice(p * size, size), mean);
            TensorPrimitives.Max(top, input.Slice(p * size, size), top);
        }

        TensorPrimitives.Divide(mean, _window, mean);
    }

    // What is said at the key's place, at the root's, at the bass's, and anywhere.
    private void Gather(float[] factors, float[] tails, float[] whole)
    {
        Array.Clear(whole);
        var keys = new float[2 * _window];
        var roots = new float[_window];
        var basses = new float[_window];
        for (var p = 0; p < _window; p++)
        {
            var at = p * _places.Stride;
            (keys[p], keys[_window + p], roots[p], basses[p]) = (factors[at], factors[at + 1], factors[at + 2], factors[at + 3]);
        }

        TensorPrimitives.SoftMax<float>(keys, keys);
        TensorPrimitives.SoftMax<float>(roots, roots);
        TensorPrimitives.SoftMax<float>(basses, basses);
        var key = whole.AsSpan(0, _tail);
        var root = whole.AsSpan(_tail, _tail);
        var bass = whole.AsSpan(2 * _tail, _tail);
        var top = whole.AsSpan(3 * _tail, _tail);
        for (var p = 0; p < _window; p++)
        {
            var own = tails.AsSpan(p * _lastPoint.Stride, _tail);
            TensorPrimitives.MultiplyAdd(own, keys[p] + keys[_window + p], key, key);
            TensorPrimitives.MultiplyAdd(own, roots[p], root, root);
            TensorPrimitives.MultiplyAdd(own, basses[p], bass, bass);
            TensorPrimitives.Max(top, own, top);
        }
    }

    // From channels × planes × taps to planes × places reached × channels: the last tap reaches the lowest place.
    private float[] ByPlace(float[] weights)
    {
        var planes = weights.Length / (_channels * _kernel);
        var turned = new float[weights.Length];
        for (var c = 0; c < _channels; c++)
            for (var plane = 0; plane < planes; plane++)
                for (var tap = 0; tap < _kernel; tap++)
                    turned[(((plane * _kernel) + _kernel - 1 - tap) * _channels) + c] = weights[(((c * planes) + plane) * _kernel) + tap];
        return turned;
    }

    /// <summary>When a vertical sounds: the quarter note that it starts in, counted from the start, and how much it weighs in its beat.</summary>
    public readonly record struct Moment(long Quarter, float Weight);

    private sealed record Direction(PackedMatrix[] Input, PackedMatrix[] State);

    private sealed record Layer(FifthsBand Band, PackedMatrix Point, PackedMatrix Whole, ClampedNorm Norm, Direction[] Directions);
}
