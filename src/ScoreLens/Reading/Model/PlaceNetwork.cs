using System.Buffers;
using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// One learned network: from the features of verticals to factor scores. It does the same for every place on the line of
/// fifths, so that what it has learned about one key it knows of all. Each place has a recurrent state of its own, first over
/// beats and then over verticals; places hear of each other through bands along the line and through sums over all of them.
/// Immutable; safe to share.
/// </summary>
/// <remarks>
/// Verticals go through in blocks, so that what a block needs stays in the cache; what is kept for a whole span is one row of every
/// place after each mix, and the states. What the verticals of a beat have in common is computed once for the beat.
/// </remarks>
internal sealed class PlaceNetwork
{
    private const float Outside = -12;
    private const int Factors = 5;

    // A long score is read in spans that overlap, so that memory stays bounded; what lies farther off does not matter.
    private const int Span = 1024;
    private const int Overlap = 96;

    private static readonly string[] Directions = ["", "_reverse"];

    // Verticals at a time.
    private const int Block = 8;

    private readonly int _window;
    private readonly int _edge;
    private readonly int _channels;
    private readonly int _hidden;
    private readonly int _tail;
    private readonly PlaneBand _planes;
    private readonly ClampedNorm _norm;
    private readonly PackedMatrix _neighbours;
    private readonly Mix _firstMix;
    private readonly Mix _secondMix;
    private readonly Mix _beatMix;
    private readonly ClampedNorm _firstNorm;
    private readonly ClampedNorm _secondNorm;
    private readonly GatedUnit[] _overBeats;
    private readonly GatedUnit[] _overVerticals;
    private readonly FifthsBand[] _lastBands;
    private readonly PackedMatrix _lastPoint;
    private readonly PackedMatrix _places;
    private readonly PackedMatrix _restIn;
    private readonly PackedMatrix _restOut;

    /// <summary>Builds a network from its sizes and its arrays by name; channels, hidden and tail are multiples of eight.</summary>
    public PlaceNetwork(int channels, int hidden, int tail, int kernel, int window, int outputs, Func<string, float[]> read)
    {
        (_channels, _hidden, _tail, _window) = (channels, hidden, tail, window);
        _edge = (SonorityFeatures.Places - window) / 2;
        _planes = new PlaneBand(read("first.weight"), read("first.bias"), read("scalars.weight"), read("scalars.bias"), kernel, window);
        _norm = Norm("norm");
        _neighbours = Matrix("conv", channels, 3 * channels);

        // A place's values are its own, then the states of both directions.
        var size = channels + (2 * hidden);
        _firstMix = MixOf(0, channels, 0, [channels]);
        _secondMix = MixOf(1, size, 0, [channels]);
        _beatMix = MixOf(1, size, channels, [hidden, hidden]);
        (_firstNorm, _secondNorm) = (Norm("norms.0"), Norm("norms.1"));
        (_overBeats, _overVerticals) = (Units(0), Units(1));
        _lastBands = Bands(2, 0, [channels, hidden, hidden]);
        _lastPoint = Matrix("point.2", tail, 2 * size);
        _places = Matrix("places", Factors, tail);
        _restIn = Matrix("rest.0", 2 * tail, 4 * tail);
        _restOut = Matrix("rest.3", outputs - (Factors * SonorityFeatures.Places), 2 * tail);

        ClampedNorm Norm(string name) => new(read(name + ".weight"), read(name + ".bias"));

        PackedMatrix Matrix(string name, int rows, int columns) => new(read(name + ".weight"), read(name + ".bias"), rows, columns);

        GatedUnit[] Units(int layer) =>
        [
            .. Directions.Select(direction => new GatedUnit(
                read($"grus.{layer}.weight_ih_l0{direction}"),
                read($"grus.{layer}.bias_ih_l0{direction}"),
                read($"grus.{layer}.weight_hh_l0{direction}"),
                read($"grus.{layer}.bias_hh_l0{direction}"))),
        ];

        FifthsBand[] Bands(int layer, int from, int[] counts)
        {
            var (weights, bias) = (read($"along.{layer}.weight"), read($"along.{layer}.bias"));
            return [.. counts.Select((count, i) => new FifthsBand(weights, bias, kernel, from + counts[..i].Sum(), count))];
        }

        // The part of a layer that some of a place's values go through. Both biases are alike for all places, and belong to the part with
        // the first of the values.
        Mix MixOf(int layer, int all, int from, int[] counts)
        {
            var count = counts.Sum();
            float[] bias = [.. read($"point.{layer}.bias").Zip(read($"whole.{layer}.bias"), (a, b) => a + b)];
            return new Mix(Bands(layer, from, counts), Part($"point.{layer}", []), Part($"whole.{layer}", from == 0 ? bias : []));

            PackedMatrix Part(string name, float[] bias)
            {
                var weights = read(name + ".weight");
                var part = new float[channels * 2 * count];
                for (var row = 0; row < 2 * channels; row++) weights.AsSpan((row * all) + from, count).CopyTo(part.AsSpan(row * count));
                return new PackedMatrix(part, bias, channels, 2 * count);
            }
        }
    }

    /// <summary>Adds the factor scores of every vertical to rows of a given length.</summary>
    public void AddTo(ReadOnlySpan<SonorityFeatures.Row> rows, ReadOnlySpan<Moment> moments, Span<float> output, int stride)
    {
        using var room = new Room(this, Math.Min(rows.Length, Span + (2 * Overlap)));
        for (var start = 0; start < rows.Length; start += Span)
        {
            var from = Math.Max(0, start - Overlap);
            var to = Math.Min(rows.Length, start + Span + Overlap);
            var beats = Beats.Of(moments[from..to]);
            Front(rows[from..to], beats, room);
            OverBeats(beats.Count, room);
            OverVerticals(beats, room);
            Tails(to - from, start - from, Math.Min(Span, rows.Length - start), room, output[(start * stride)..], stride);
        }
    }

    // From features to every place with its neighbours in time and along the line, vertical by vertical and as means of beats.
    private void Front(ReadOnlySpan<SonorityFeatures.Row> rows, Beats beats, Room room)
    {
        var length = _window * _channels;
        var near = room.Near;
        Array.Clear(near, 0, length);
        Array.Clear(room.Means, 0, beats.Count * length);
        Enter(rows, 0, near.AsSpan(length, length));
        for (var start = 0; start < rows.Length; start += Block)
        {
            var count = Math.Min(Block, rows.Length - start);

            // The block stands between the vertical before and the one after it.
            for (var i = 0; i < count; i++) Enter(rows, start + i + 1, near.AsSpan((i + 2) * length, length));
            var own = room.Own.AsSpan(0, count * length);
            InputRows[] three = [new(near, 0, _channels), new(near, length, _channels), new(near, 2 * length, _channels)];
            _neighbours.Multiply(three, count * _window, own, clamp: true);
            TensorPrimitives.Add(own, near.AsSpan(length, own.Length), own);
            Common(_firstMix, [new Source(room.Own, 0)], count, room);
            for (var i = 0; i < count; i++) Spread(room.Common.AsSpan(i * _channels, _channels), room.Onto.AsSpan(i * length, length));
            Point(_firstMix, [new Source(room.Own, 0)], count, room, room.Product);
            var places = room.Places.AsSpan(start * length, own.Length);
            _firstNorm.Apply(room.Product.AsSpan(0, own.Length), places);
            for (var i = 0; i < count; i++)
            {
                var mean = room.Means.AsSpan(beats.Of(start + i) * length, length);
                TensorPrimitives.MultiplyAdd(places.Slice(i * length, length), beats.Share(start + i), mean, mean);
            }

            near.AsSpan(count * length, 2 * length).CopyTo(near);
        }
    }

    private void Enter(ReadOnlySpan<SonorityFeatures.Row> rows, int vertical, Span<float> places)
    {
        if (vertical >= rows.Length)
        {
            places.Clear();
            return;
        }

        _planes.Sum(rows[vertical], places);
        _norm.Apply(places, places);
    }

    // The states of beats, and what they bring to every vertical of theirs.
    private void OverBeats(int count, Room room)
    {
        var length = _window * _channels;
        var states = _window * _hidden;
        Forwards(_overBeats[0], room.Means, count, room.Forwards, room);
        for (var (end, carry) = (count, true); end > 0; (end, carry) = (end - Block, false))
        {
            var start = Math.Max(0, end - Block);
            Backwards(_overBeats[1], room.Means, start, end, carry, room);
            Source[] sources = [new(room.Forwards, start * states), new(room.Backwards, 0)];
            Common(_beatMix, sources, end - start, room);
            for (var i = 0; i < end - start; i++) Spread(room.Common.AsSpan(i * _channels, _channels), room.Onto.AsSpan(i * length, length));

            // The means of these beats have done their work.
            Point(_beatMix, sources, end - start, room, room.Means.AsSpan(start * length));
        }
    }

    // Verticals with what their beats bring them, then forward states over them.
    private void OverVerticals(Beats beats, Room room)
    {
        var length = _window * _channels;
        for (var start = 0; start < beats.Verticals; start += Block)
        {
            var count = Math.Min(Block, beats.Verticals - start);
            Source[] source = [new(room.Places, start * length)];
            Common(_secondMix, source, count, room);
            for (var i = 0; i < count; i++)
            {
                var onto = room.Onto.AsSpan(i * length, length);
                Spread(room.Common.AsSpan(i * _channels, _channels), onto);
                TensorPrimitives.Add(onto, room.Means.AsSpan(beats.Of(start + i) * length, length), onto);
            }

            Point(_secondMix, source, count, room, room.Product);
            _secondNorm.Apply(room.Product.AsSpan(0, count * length), room.Places.AsSpan(start * length, count * length));
        }

        Forwards(_overVerticals[0], room.Places, beats.Verticals, room.Forwards, room);
    }

    // Backward states from the end on, and the scores of the verticals that are wanted.
    private void Tails(int verticals, int skip, int wanted, Room room, Span<float> output, int stride)
    {
        var length = _window * _channels;
        var states = _window * _hidden;
        var size = _channels + (2 * _hidden);
        for (var (end, carry) = (verticals, true); end > skip; (end, carry) = (end - Block, false))
        {
            var start = Math.Max(0, end - Block);
            Backwards(_overVerticals[1], room.Places, start, end, carry, room);
            if (start >= skip + wanted) continue;
            Source[] sources = [new(room.Places, start * length), new(room.Forwards, start * states), new(room.Backwards, 0)];
            var inputs = Beside(_lastBands, sources, end - start, room, size);
            var tails = room.Tails.AsSpan(0, (end - start) * _window * _tail);
            _lastPoint.Multiply(inputs, (end - start) * _window, tails, clamp: true);
            _places.Multiply([new(room.Tails, 0, _tail)], (end - start) * _window, room.Factors);
            for (var i = 0; i < end - start; i++)
                Gather(room.Factors.AsSpan(i * _window * _places.Stride), tails.Slice(i * _window * _tail, _window * _tail), room.Shares, room.Whole.AsSpan(i * 4 * _tail, 4 * _tail));
            _restIn.Multiply([new(room.Whole, 0, 4 * _tail)], end - start, room.Between, clamp: true);
            _restOut.Multiply([new(room.Between, 0, 2 * _tail)], end - start, room.Rest);
            for (var t = Math.Max(start, skip); t < Math.Min(end, skip + wanted); t++)
                Write(room.Factors.AsSpan((t - start) * _window * _places.Stride), room.Rest.AsSpan((t - start) * _restOut.Stride), output.Slice((t - skip) * stride, stride));
        }
    }

    private void Write(ReadOnlySpan<float> factors, ReadOnlySpan<float> rest, Span<float> output)
    {
        for (var factor = 0; factor < Factors; factor++)
        {
            for (var place = 0; place < SonorityFeatures.Places; place++)
            {
                var p = place - _edge;
                output[(factor * SonorityFeatures.Places) + place] += p < 0 || p >= _window ? Outside : factors[(p * _places.Stride) + factor];
            }
        }

        var others = output[(Factors * SonorityFeatures.Places)..];
        var count = Math.Min(others.Length, _restOut.Stride);
        TensorPrimitives.Add(others[..count], rest[..count], others);
    }

    private void Forwards(GatedUnit unit, float[] input, int count, float[] states, Room room)
    {
        var length = _window * _hidden;
        for (var start = 0; start < count; start += Block)
        {
            var steps = Math.Min(Block, count - start);
            unit.Input.Multiply([new(input, start * _window * _channels, _channels)], steps * _window, room.Gates);
            for (var i = 0; i < steps; i++)
            {
                var before = start + i == 0 ? new InputRows(room.Nothing, 0, _hidden) : new InputRows(states, (start + i - 1) * length, _hidden);
                unit.Step(room.Gates.AsSpan(i * _window * unit.Input.Stride), before, room.Sums, states.AsSpan((start + i) * length, length), _window);
            }
        }
    }

    // A block's states from its last step to its first; the states after the block are taken from the first of the block before this call.
    private void Backwards(GatedUnit unit, float[] input, int start, int end, bool fresh, Room room)
    {
        var length = _window * _hidden;
        var after = room.After.AsSpan(0, length);
        if (fresh) after.Clear();
        else room.Backwards.AsSpan(0, length).CopyTo(after);
        unit.Input.Multiply([new(input, start * _window * _channels, _channels)], (end - start) * _window, room.Gates);
        for (var i = end - start - 1; i >= 0; i--)
        {
            var before = i == end - start - 1 ? new InputRows(room.After, 0, _hidden) : new InputRows(room.Backwards, (i + 1) * length, _hidden);
            unit.Step(room.Gates.AsSpan(i * _window * unit.Input.Stride), before, room.Sums, room.Backwards.AsSpan(i * length, length), _window);
        }
    }

    // What is alike for all places of a vertical: from the means and the largest values of all of them.
    private void Common(Mix mix, ReadOnlySpan<Source> sources, int count, Room room)
    {
        var half = mix.Whole.Inputs / 2;
        for (var i = 0; i < count; i++)
        {
            var at = i * 2 * half;
            for (var n = 0; n < sources.Length; n++)
            {
                var channels = mix.Bands[n].Channels;
                var own = sources[n].Array.AsSpan(sources[n].Start + (i * _window * channels), _window * channels);
                PlacePool.MeanAndTop(own, channels, room.Pooled.AsSpan(at), room.Pooled.AsSpan(at + half));
                at += channels;
            }
        }

        mix.Whole.Multiply([new(room.Pooled, 0, 2 * half)], count, room.Common);
    }

    // Every place's own values and what it hears along the line, onto what is in room.Onto.
    private void Point(Mix mix, ReadOnlySpan<Source> sources, int count, Room room, Span<float> output) =>
        mix.Point.Multiply(Beside(mix.Bands, sources, count, room, mix.Point.Inputs / 2), count * _window, output, room.Onto);

    // The places' values, and beside them what the bands bring from the places around.
    private InputRows[] Beside(FifthsBand[] bands, ReadOnlySpan<Source> sources, int count, Room room, int size)
    {
        var parts = new InputRows[sources.Length + 1];
        var at = 0;
        for (var i = 0; i < sources.Length; i++)
        {
            var (array, start) = sources[i];
            var channels = bands[i].Channels;
            bands[i].Sum(array.AsSpan(start, count * _window * channels), _window, room.Margined, room.Beside.AsSpan(at), size);
            parts[i] = new InputRows(array, start, channels);
            at += channels;
        }

        parts[^1] = new InputRows(room.Beside, 0, size);
        return parts;
    }

    private static void Spread(ReadOnlySpan<float> row, Span<float> rows)
    {
        for (; rows.Length > 0; rows = rows[row.Length..]) row.CopyTo(rows);
    }

    // What is said at the key's place, at the root's, at the bass's, and anywhere.
    private void Gather(ReadOnlySpan<float> factors, ReadOnlySpan<float> tails, Span<float> shares, Span<float> whole)
    {
        var keys = shares[..(2 * _window)];
        var roots = shares.Slice(2 * _window, _window);
        var basses = shares.Slice(3 * _window, _window);
        for (var p = 0; p < _window; p++)
        {
            var at = p * _places.Stride;
            (keys[p], keys[_window + p], roots[p], basses[p]) = (factors[at], factors[at + 1], factors[at + 2], factors[at + 3]);
        }

        TensorPrimitives.SoftMax(keys, keys);
        TensorPrimitives.SoftMax(roots, roots);
        TensorPrimitives.SoftMax(basses, basses);
        TensorPrimitives.Add(keys[.._window], keys[_window..], keys[.._window]);
        PlacePool.SharesAndTop(tails, _tail, keys, roots, basses, whole);
    }

    /// <summary>When a vertical sounds: the quarter note that it starts in, counted from the start, and how much it weighs in its beat.</summary>
    public readonly record struct Moment(long Quarter, float Weight);

    // The values of all places of some verticals, in an array from a start on.
    private readonly record struct Source(float[] Array, int Start);

    // What places hear along the line, what each makes of that, and what all make of all together.
    private sealed record Mix(FifthsBand[] Bands, PackedMatrix Point, PackedMatrix Whole);

    // Room for a span: nothing is allocated vertical by vertical, and what a whole span needs is lent again and again, since fresh memory
    // costs more than the sums that go through it.
    private sealed class Room(PlaceNetwork network, int verticals) : IDisposable
    {
        private readonly int _size = network._channels + (2 * network._hidden);
        private readonly int _window = network._window;

        // Of a whole span: every place's values, those of beats and then what beats bring to places, and forward states.
        public float[] Places { get; } = ArrayPool<float>.Shared.Rent(verticals * network._window * network._channels);

        public float[] Means { get; } = ArrayPool<float>.Shared.Rent(verticals * network._window * network._channels);

        public float[] Forwards { get; } = ArrayPool<float>.Shared.Rent(verticals * network._window * network._hidden);

        // Of a block.
        public float[] Near { get; } = new float[(Block + 2) * network._window * network._channels];

        public float[] Own { get; } = new float[Block * network._window * network._channels];

        public float[] Onto { get; } = new float[Block * network._window * network._channels];

        public float[] Product { get; } = new float[Block * network._window * network._channels];

        public float[] Common { get; } = new float[Block * network._channels];

        public float[] Gates { get; } = new float[Block * network._window * 3 * network._hidden];

        public float[] Sums { get; } = new float[network._window * 3 * network._hidden];

        public float[] Backwards { get; } = new float[Block * network._window * network._hidden];

        public float[] After { get; } = new float[network._window * network._hidden];

        public float[] Nothing { get; } = new float[network._window * network._hidden];

        public float[] Tails { get; } = new float[Block * network._window * network._tail];

        public float[] Factors { get; } = new float[Block * network._window * network._places.Stride];

        public float[] Shares { get; } = new float[4 * network._window];

        public float[] Whole { get; } = new float[Block * 4 * network._tail];

        public float[] Between { get; } = new float[Block * network._restIn.Stride];

        public float[] Rest { get; } = new float[Block * network._restOut.Stride];

        public float[] Beside => field ??= new float[Block * _window * _size];

        public float[] Pooled => field ??= new float[Block * 2 * _size];

        public float[] Margined => field ??= new float[network._lastBands.Max(b => b.MarginedLength(_window))];

        public void Dispose()
        {
            foreach (var lent in (float[][])[Places, Means, Forwards]) ArrayPool<float>.Shared.Return(lent);
        }
    }

    // Which verticals belong to one beat, and the share that each has in its beat's mean.
    private sealed class Beats
    {
        private readonly int[] _beatOf;
        private readonly float[] _shares;

        private Beats(int[] beatOf, float[] shares) => (_beatOf, _shares) = (beatOf, shares);

        public int Verticals => _beatOf.Length;

        public int Count => _beatOf[^1] + 1;

        public static Beats Of(ReadOnlySpan<Moment> moments)
        {
            var beatOf = new int[moments.Length];
            for (var t = 1; t < beatOf.Length; t++) beatOf[t] = beatOf[t - 1] + (moments[t].Quarter == moments[t - 1].Quarter ? 0 : 1);
            var sums = new float[beatOf.Length];
            for (var t = 0; t < beatOf.Length; t++) sums[beatOf[t]] += moments[t].Weight;
            var shares = new float[beatOf.Length];
            for (var t = 0; t < beatOf.Length; t++) shares[t] = moments[t].Weight / sums[beatOf[t]];
            return new Beats(beatOf, shares);
        }

        public int Of(int vertical) => _beatOf[vertical];

        public float Share(int vertical) => _shares[vertical];
    }
}
