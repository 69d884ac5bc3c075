using System.Buffers;
using System.Numerics.Tensors;

namespace ScoreLens.Reading.Model;

/// <summary>
/// A learned network: from the features of verticals to factor scores. A vertical's features and those of its neighbours are
/// mixed, then states run in both directions over beats, and over verticals. Products are reckoned in whole numbers
/// (<see cref="PackedMatrix"/>). Immutable; safe to share.
/// </summary>
internal sealed class RecurrentNetwork
{
    // Verticals at a time: what a block needs stays in the cache.
    private const int Block = 32;

    private readonly FeatureColumns _features;
    private readonly ClampedNorm _norm;
    private readonly PackedMatrix[] _neighbours;
    private readonly StateLayer[] _overBeats;
    private readonly StateLayer[] _overVerticals;
    private readonly PackedMatrix _last;
    private readonly int _front;

    /// <summary>Builds a network from its sizes, multiples of eight, and its arrays by name.</summary>
    /// <param name="size">Its sizes.</param>
    /// <param name="matrix">A matrix of learn.py's class Whole.</param>
    /// <param name="vector">The numbers of an array of it that is no matrix.</param>
    public RecurrentNetwork(Sizes size, Func<string, WeightMatrix> matrix, Func<string, float[]> vector)
    {
        _front = size.Front;
        _features = new FeatureColumns(matrix("first.weight"), vector("first.bias"));
        _norm = new ClampedNorm(vector("norm.weight"), vector("norm.bias"));
        var taps = matrix("conv.weight");
        _neighbours = [.. Enumerable.Range(0, 3).Select(tap => new PackedMatrix(Tap(taps, tap), tap == 0 ? vector("conv.bias") : []))];
        _overBeats = Layers("beat", size.BeatLayers);
        _overVerticals = Layers("gru", size.Layers);
        _last = new PackedMatrix(matrix("last.weight"), vector("last.bias"));

        StateLayer[] Layers(string name, int count) => [.. Enumerable.Range(0, count)
            .Select(n => new StateLayer(Unit(n, $"{name}.", $"_l{n}"), Unit(n, $"{name}.", $"_l{n}_reverse")))];

        GatedUnit Unit(int layer, string name, string end)
        {
            var input = matrix($"{name}weight_ih{end}");
            return new(input, vector($"{name}bias_ih{end}"), matrix($"{name}weight_hh{end}"), vector($"{name}bias_hh{end}"),
                layer == 0 ? size.Front : input.Inputs);
        }
    }

    /// <summary>Adds the factor scores of every vertical to rows of a given length.</summary>
    public void AddTo(ReadOnlySpan<SonorityFeatures.Row> rows, ReadOnlySpan<Moment> moments, Span<float> output, int stride,
        CancellationToken cancellationToken = default)
    {
        if (rows.IsEmpty) return;
        using var lent = new Lent(cancellationToken);
        var beats = Beats.Of(moments);
        var verticals = Front(rows, lent);
        var overBeats = Rounded(Means(verticals, beats, lent), beats.Count, lent);
        foreach (var layer in _overBeats) overBeats = layer.Run(overBeats, beats.Count, null, lent);
        var states = Rounded(verticals, rows.Length, lent);
        foreach (var (n, layer) in _overVerticals.Index())
            states = layer.Run(states, rows.Length, n == 0 ? new Brought(overBeats, beats) : null, lent);
        var scores = lent.Take<float>(Block * _last.Stride);
        for (var start = 0; start < rows.Length; start += Block)
        {
            var count = Math.Min(Block, rows.Length - start);
            _last.Multiply(states.From(start), count, scores);
            for (var i = 0; i < count; i++)
            {
                var to = output.Slice((start + i) * stride, Math.Min(stride, _last.Stride));
                TensorPrimitives.Add(to, scores.AsSpan(i * _last.Stride, to.Length), to);
            }
        }
    }

    // A convolution over three verticals is a matrix for each of the three.
    private static WeightMatrix Tap(WeightMatrix taps, int tap)
    {
        var numbers = new sbyte[taps.Numbers.Length / 3];
        for (var i = 0; i < numbers.Length; i++) numbers[i] = taps.Numbers[(i * 3) + tap];
        return new(numbers, taps.Scales);
    }

    // Every vertical with its neighbours.
    private float[] Front(ReadOnlySpan<SonorityFeatures.Row> rows, Lent lent)
    {
        var (own, mixed) = (lent.Take<float>(rows.Length * _front), lent.Take<float>(rows.Length * _front));
        var sums = lent.Take<float>(_features.Stride);
        for (var t = 0; t < rows.Length; t++)
        {
            _features.Sum(rows[t], sums);
            sums.AsSpan(0, _front).CopyTo(own.AsSpan(t * _front));
        }

        var all = own.AsSpan(0, rows.Length * _front);
        _norm.Apply(all, all);
        var rounded = Rounded(own, rows.Length, lent, around: 1);
        var near = lent.Take<float>(Block * _neighbours[0].Stride);
        for (var start = 0; start < rows.Length; start += Block)
        {
            var count = Math.Min(Block, rows.Length - start);
            for (var tap = 0; tap < _neighbours.Length; tap++)
                _neighbours[tap].Multiply(rounded.From(start + tap - 1), count, near, tap == 0 ? Onto.Bias : Onto.Output);
            for (var i = 0; i < count; i++)
            {
                var at = (start + i) * _front;
                var to = mixed.AsSpan(at, _front);
                TensorPrimitives.Max(near.AsSpan(i * _neighbours[0].Stride, _front), 0, to);
                TensorPrimitives.Add(to, own.AsSpan(at, _front), to);
            }
        }

        return mixed;
    }

    private float[] Means(float[] verticals, Beats beats, Lent lent)
    {
        var means = lent.Take<float>(beats.Count * _front);
        means.AsSpan(0, beats.Count * _front).Clear();
        for (var t = 0; t < beats.Verticals; t++)
        {
            var mean = means.AsSpan(beats.Of(t) * _front, _front);
            TensorPrimitives.MultiplyAdd(verticals.AsSpan(t * _front, _front), beats.Share(t), mean, mean);
        }

        return means;
    }

    // Rows with a step each, and so many rows of zeros before the first and behind the last.
    private Quantised Rounded(float[] values, int count, Lent lent, int around = 0)
    {
        var (numbers, steps) = (lent.Take<short>((count + (2 * around)) * _front), lent.Take<float>(count + (2 * around)));
        foreach (var zeros in (int[])[0, count + around])
        {
            numbers.AsSpan(zeros * _front, around * _front).Clear();
            steps.AsSpan(zeros, around).Clear();
        }

        for (var row = 0; row < count; row++) steps[row + around] = Quantised.Round(
            values.AsSpan(row * _front, _front), numbers.AsSpan((row + around) * _front, _front));
        return new(numbers, around * _front, _front, steps, around);
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

    // The states over beats, of which every vertical of a beat has its share.
    private sealed record Brought(Quantised States, Beats Beats);

    // States that run forwards and states that run backwards, side by side.
    private sealed record StateLayer(GatedUnit Forwards, GatedUnit Backwards)
    {
        public Quantised Run(Quantised input, int count, Brought? brought, Lent lent)
        {
            var units = Forwards.Units;
            var stride = Forwards.Input.Stride;
            // A row of zeros stands before the first state and behind the last.
            var (states, steps) = (lent.Take<short>((count + 2) * 2 * units), lent.Take<float>(count + 2));
            states.AsSpan(0, 2 * units).Clear();
            states.AsSpan((count + 1) * 2 * units, 2 * units).Clear();
            steps.AsSpan(0, count + 2).Fill(Quantised.OfOne);
            var all = new Quantised(states, 2 * units, 2 * units, steps, 1);
            var (gates, shared) = (lent.Take<float>(Block * stride), lent.Take<float>(Block * stride));
            var (sums, forwards, backwards) = (lent.Take<float>(stride), lent.Take<float>(units), lent.Take<float>(units));
            forwards.AsSpan(0, units).Clear();
            backwards.AsSpan(0, units).Clear();
            var blocks = (count + Block - 1) / Block;
            for (var block = 0; block < blocks; block++)
            {
                lent.CancellationToken.ThrowIfCancellationRequested();
                Take(Forwards, forwards, block, 0, 1);
                Take(Backwards, backwards, blocks - 1 - block, units, -1);
            }

            return all;

            void Take(GatedUnit unit, float[] state, int block, int column, int direction)
            {
                var first = block * Block;
                var rows = Math.Min(Block, count - first);
                if (brought is not null) Share(unit, first, rows);
                unit.Input.Multiply(input.From(first), rows, gates, brought is null ? Onto.Bias : Onto.Output);
                for (var i = 0; i < rows; i++)
                {
                    var row = direction > 0 ? i : rows - 1 - i;
                    var before = all.From(first + row - direction);
                    unit.Step(gates.AsSpan(row * stride, stride), before with { Start = before.Start + column }, sums, state,
                        states.AsSpan(all.From(first + row).Start + column, units));
                }
            }

            // What a beat brings is reckoned once for all its verticals.
            void Share(GatedUnit unit, int first, int rows)
            {
                var beat = brought.Beats.Of(first);
                unit.Shared!.Multiply(brought.States.From(beat), brought.Beats.Of(first + rows - 1) - beat + 1, shared);
                for (var i = 0; i < rows; i++)
                    shared.AsSpan((brought.Beats.Of(first + i) - beat) * stride, stride).CopyTo(gates.AsSpan(i * stride));
            }
        }
    }

    // Arrays lent for a run: what a whole score needs is lent again and again, since fresh memory costs more than the sums that go through
    // it. The run that they are lent for can be given up.
    private sealed class Lent(CancellationToken cancellationToken) : IDisposable
    {
        private readonly List<Action> _returns = [];

        public CancellationToken CancellationToken => cancellationToken;

        public T[] Take<T>(int length)
        {
            var array = ArrayPool<T>.Shared.Rent(length);
            _returns.Add(() => ArrayPool<T>.Shared.Return(array));
            return array;
        }

        public void Dispose()
        {
            foreach (var giveBack in _returns) giveBack();
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
