using System.Buffers;
using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A learned network: from the features of verticals to factor scores. A vertical's features and those of its neighbours are
/// mixed, then states run in both directions over beats, and over verticals. Immutable; safe to share.
/// </summary>
internal sealed class RecurrentNetwork
{
    // Verticals at a time: what a block needs stays in the cache.
    private const int Block = 32;

    private readonly float[] _columns;
    private readonly float[] _bias;
    private readonly ClampedNorm _norm;
    private readonly PackedMatrix _neighbours;
    private readonly StateLayer[] _overBeats;
    private readonly StateLayer[] _overVerticals;
    private readonly PackedMatrix _last;
    private readonly int _front;

    /// <summary>Builds a network from its sizes, multiples of eight, and its arrays by name.</summary>
    /// <param name="size">Its sizes.</param>
    /// <param name="outputs">Factor scores of a vertical.</param>
    /// <param name="read">The numbers of an array of learn.py's class Whole.</param>
    public RecurrentNetwork(Sizes size, int outputs, Func<string, float[]> read)
    {
        _front = size.Front;
        _bias = read("first.bias");
        _columns = Columns(read("first.weight"), size.Front);
        _norm = new ClampedNorm(read("norm.weight"), read("norm.bias"));
        _neighbours = new PackedMatrix(Taps(read("conv.weight"), size.Front), read("conv.bias"), size.Front, 3 * size.Front);
        _overBeats = Layers("beat", size.BeatLayers);
        _overVerticals = Layers("gru", size.Layers);
        _last = new PackedMatrix(read("last.weight"), read("last.bias"), outputs, 2 * size.Hidden);

        StateLayer[] Layers(string name, int count) => [.. Enumerable.Range(0, count)
            .Select(n => new StateLayer(Unit($"{name}.", $"_l{n}"), Unit($"{name}.", $"_l{n}_reverse")))];

        GatedUnit Unit(string name, string end) =>
            new(read($"{name}weight_ih{end}"), read($"{name}bias_ih{end}"), read($"{name}weight_hh{end}"), read($"{name}bias_hh{end}"));
    }

    /// <summary>Adds the factor scores of every vertical to rows of a given length.</summary>
    public void AddTo(ReadOnlySpan<SonorityFeatures.Row> rows, ReadOnlySpan<Moment> moments, Span<float> output, int stride,
        CancellationToken cancellationToken = default)
    {
        if (rows.IsEmpty) return;
        using var lent = new Lent(cancellationToken);
        var verticals = Front(rows, lent);
        var beats = Beats.Of(moments);
        var means = Means(verticals, beats, lent);
        var overBeats = Run(_overBeats, [new(means, 0, _front)], beats.Count, lent);
        var brought = Spread(overBeats, beats, lent);
        var states = Run(_overVerticals, [new(verticals, 0, _front), brought], rows.Length, lent);
        var scores = lent.Take(Block * _last.Stride);
        for (var start = 0; start < rows.Length; start += Block)
        {
            var count = Math.Min(Block, rows.Length - start);
            _last.Multiply([states with { Start = start * states.Stride }], count, scores);
            for (var i = 0; i < count; i++)
            {
                var to = output.Slice((start + i) * stride, Math.Min(stride, _last.Stride));
                TensorPrimitives.Add(to, scores.AsSpan(i * _last.Stride, to.Length), to);
            }
        }
    }

    // The weights of one feature lie together, since most features of a vertical are zero.
    private static float[] Columns(float[] weights, int front)
    {
        var columns = new float[weights.Length];
        var width = weights.Length / front;
        for (var o = 0; o < front; o++)
            for (var i = 0; i < width; i++) columns[(i * front) + o] = weights[(o * width) + i];
        return columns;
    }

    // A convolution over three verticals as a matrix over the three side by side.
    private static float[] Taps(float[] weights, int front)
    {
        var matrix = new float[weights.Length];
        for (var o = 0; o < front; o++)
            for (var i = 0; i < front; i++)
                for (var tap = 0; tap < 3; tap++) matrix[(((o * 3) + tap) * front) + i] = weights[(((o * front) + i) * 3) + tap];
        return matrix;
    }

    // Every vertical with its neighbours.
    private float[] Front(ReadOnlySpan<SonorityFeatures.Row> rows, Lent lent)
    {
        // A row of zeros stands before the first vertical and after the last.
        var own = lent.Take((rows.Length + 2) * _front);
        own.AsSpan(0, _front).Clear();
        own.AsSpan((rows.Length + 1) * _front, _front).Clear();
        for (var t = 0; t < rows.Length; t++)
        {
            var sums = own.AsSpan((t + 1) * _front, _front);
            _bias.CopyTo(sums);
            var (indices, values) = rows[t];
            for (var i = 0; i < indices.Length; i++) TensorPrimitives.MultiplyAdd(_columns.AsSpan(indices[i] * _front, _front), values[i],
                sums, sums);
        }

        var all = own.AsSpan(_front, rows.Length * _front);
        _norm.Apply(all, all);
        var mixed = lent.Take(rows.Length * _front);
        for (var start = 0; start < rows.Length; start += Block)
        {
            var count = Math.Min(Block, rows.Length - start);
            InputRows[] three = [.. Enumerable.Range(start, 3).Select(t => new InputRows(own, t * _front, _front))];
            _neighbours.Multiply(three, count, mixed.AsSpan(start * _front), clamp: true);
        }

        TensorPrimitives.Add(mixed.AsSpan(0, all.Length), all, mixed);
        return mixed;
    }

    private float[] Means(float[] verticals, Beats beats, Lent lent)
    {
        var means = lent.Take(beats.Count * _front);
        means.AsSpan(0, beats.Count * _front).Clear();
        for (var t = 0; t < beats.Verticals; t++)
        {
            var mean = means.AsSpan(beats.Of(t) * _front, _front);
            TensorPrimitives.MultiplyAdd(verticals.AsSpan(t * _front, _front), beats.Share(t), mean, mean);
        }

        return means;
    }

    // To every vertical the states of its beat.
    private static InputRows Spread(InputRows beatStates, Beats beats, Lent lent)
    {
        var size = beatStates.Count;
        var spread = lent.Take(beats.Verticals * size);
        for (var t = 0; t < beats.Verticals; t++) beatStates.Array.AsSpan(beats.Of(t) * size, size).CopyTo(spread.AsSpan(t * size));
        return new InputRows(spread, 0, size);
    }

    private static InputRows Run(StateLayer[] layers, InputRows[] input, int count, Lent lent)
    {
        foreach (var layer in layers) input = [layer.Run(input, count, lent)];
        return input[0];
    }

    /// <summary>How many numbers each layer holds.</summary>
    /// <param name="Front">A vertical's features mixed.</param>
    /// <param name="Hidden">A state over verticals, in each direction.</param>
    /// <param name="Layers">Layers of such states.</param>
    /// <param name="BeatLayers">Layers of states over beats.</param>
    public readonly record struct Sizes(int Front, int Hidden, int Layers, int BeatLayers);

    /// <summary>
    /// When a vertical sounds: the quarter note that it starts in, counted from the start, and how much it weighs in its beat.
    /// </summary>
    public readonly record struct Moment(long Quarter, float Weight);

    // States that run forwards and states that run backwards, side by side.
    private sealed record StateLayer(GatedUnit Forwards, GatedUnit Backwards)
    {
        public InputRows Run(InputRows[] input, int count, Lent lent)
        {
            var units = Forwards.Units;
            var states = lent.Take(count * 2 * units);
            var gates = lent.Take(Block * 3 * units);
            var sums = lent.Take(3 * units);
            var nothing = lent.Take(units);
            nothing.AsSpan(0, units).Clear();
            var blocks = (count + Block - 1) / Block;
            for (var block = 0; block < blocks; block++)
            {
                lent.CancellationToken.ThrowIfCancellationRequested();
                Take(Forwards, block, 0, 1);
                Take(Backwards, blocks - 1 - block, units, -1);
            }

            return new InputRows(states, 0, 2 * units);

            void Take(GatedUnit unit, int block, int column, int direction)
            {
                var first = block * Block;
                var steps = Math.Min(Block, count - first);
                InputRows[] own = [.. input.Select(part => part with { Start = part.Start + (first * part.Stride) })];
                unit.Input.Multiply(own, steps, gates);
                for (var i = 0; i < steps; i++)
                {
                    var step = direction > 0 ? i : steps - 1 - i;
                    var before = first + step - direction;
                    var old = before < 0 || before >= count ? new InputRows(nothing, 0, units)
                        : new InputRows(states, (before * 2 * units) + column, units);
                    unit.Step(gates.AsSpan(step * 3 * units), old, sums, states.AsSpan(((first + step) * 2 * units) + column, units), 1);
                }
            }
        }
    }

    // Arrays lent for a run: what a whole score needs is lent again and again, since fresh memory costs more than the sums that go through
    // it. The run that they are lent for can be given up.
    private sealed class Lent(CancellationToken cancellationToken) : IDisposable
    {
        private readonly List<float[]> _arrays = [];

        public CancellationToken CancellationToken => cancellationToken;

        public float[] Take(int length)
        {
            var array = ArrayPool<float>.Shared.Rent(length);
            _arrays.Add(array);
            return array;
        }

        public void Dispose()
        {
            foreach (var array in _arrays) ArrayPool<float>.Shared.Return(array);
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
