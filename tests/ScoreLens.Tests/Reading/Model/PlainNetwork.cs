using ScoreLens.Reading.Model;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>
/// The network of docs/method.md written down plainly, in double precision, as learn.py's class Whole has it: dense rows, every layer
/// on its own.
/// </summary>
internal sealed class PlainNetwork(RecurrentNetwork.Sizes sizes, int beat, int outputs)
{
    private readonly Dictionary<string, float[]> _vectors = [];
    private readonly Dictionary<string, WeightMatrix> _matrices = [];
    private readonly Numbers _numbers = new(sizes.Front + sizes.Hidden + beat);

    /// <summary>A network's array by its name, of the size that its layer wants.</summary>
    public float[] Vector(string name)
    {
        if (_vectors.TryGetValue(name, out var vector)) return vector;
        return _vectors[name] = _numbers.Next(SizeOf(name).Rows, .5);
    }

    /// <summary>A network's matrix by its name, of the size that its layer wants.</summary>
    public WeightMatrix Matrix(string name)
    {
        if (_matrices.TryGetValue(name, out var matrix)) return matrix;
        var (rows, columns) = SizeOf(name);
        return _matrices[name] = _numbers.Matrix(rows, columns, 2 / Math.Sqrt(columns));
    }

    /// <summary>The weights of a matrix, a row an output.</summary>
    public static double[] Weights(WeightMatrix matrix) =>
        [.. matrix.Numbers.Select((number, i) => number * (double)matrix.Scales[i / matrix.Inputs])];

    private (int Rows, int Columns) SizeOf(string name)
    {
        var parts = name.Split('.', '_');
        var (units, inputs) = name.Split('.')[0] switch
        {
            "beat" => (beat, parts.Contains("l0") ? sizes.Front : 2 * beat),
            "gru" => (sizes.Hidden, parts.Contains("l0") ? sizes.Front + (2 * beat) : 2 * sizes.Hidden),
            _ => (0, 0),
        };
        return parts switch
        {
            ["first", "weight"] => (sizes.Front, SonorityFeatures.Width),
            ["conv", "weight"] => (sizes.Front, 3 * sizes.Front),
            ["last", "weight"] => (outputs, 2 * sizes.Hidden),
            ["last", "bias"] => (outputs, 1),
            [_, "weight", "ih", ..] => (3 * units, inputs),
            [_, "weight", "hh", ..] => (3 * units, units),
            [_, "bias", _, ..] => (3 * units, 1),
            _ => (sizes.Front, 1),
        };
    }

    public double[][] Run(SonorityFeatures.Row[] rows, RecurrentNetwork.Moment[] moments)
    {
        double[][] own = [.. rows.Select(Front)];
        var nothing = new double[sizes.Front];
        double[][] mixed =
        [
            .. own.Select((x, t) =>
            {
                double[][] three = [t > 0 ? own[t - 1] : nothing, x, t + 1 < own.Length ? own[t + 1] : nothing];
                var weights = Weights(Matrix("conv.weight"));
                return x.Select((v, o) => v + Math.Max(0, Vector("conv.bias")[o]
                    + three.SelectMany((near, tap) => near.Select((y, i) => y * weights[(((o * sizes.Front) + i) * 3) + tap])).Sum()))
                    .ToArray();
            }),
        ];
        int[] beatOf = [.. moments.Select((_, t) => moments[..(t + 1)].Select(m => m.Quarter).Distinct().Count() - 1)];
        double[][] means =
        [
            .. Enumerable.Range(0, beatOf[^1] + 1).Select(step =>
            {
                int[] inside = [.. Enumerable.Range(0, beatOf.Length).Where(t => beatOf[t] == step)];
                var weight = inside.Sum(t => (double)moments[t].Weight);
                return Enumerable.Range(0, sizes.Front).Select(c => inside.Sum(t => mixed[t][c] * moments[t].Weight) / weight).ToArray();
            }),
        ];
        var beats = States("beat", sizes.BeatLayers, beat, means);
        var states = States("gru", sizes.Layers, sizes.Hidden, [.. mixed.Select((x, t) => (double[])[.. x, .. beats[beatOf[t]]])]);
        return [.. states.Select(x => Linear(Matrix("last.weight"), Vector("last.bias"), x))];
    }

    /// <summary>A step of a gated recurrent unit, its gates in the order reset, keep, candidate.</summary>
    public static double[] Step(WeightMatrix input, float[] inputBias, WeightMatrix state, float[] stateBias, double[] x,
        double[] before)
    {
        var units = before.Length;
        var (fromInput, fromState) = (Linear(input, inputBias, x), Linear(state, stateBias, before));
        return
        [
            .. before.Select((old, u) =>
            {
                var reset = Sigmoid(fromInput[u] + fromState[u]);
                var keep = Sigmoid(fromInput[units + u] + fromState[units + u]);
                var candidate = Math.Tanh(fromInput[(2 * units) + u] + (reset * fromState[(2 * units) + u]));
                return ((1 - keep) * candidate) + (keep * old);
            }),
        ];
    }

    private static double Sigmoid(double x) => 1 / (1 + Math.Exp(-x));

    private static double[] Linear(WeightMatrix matrix, float[] bias, double[] x)
    {
        var weights = Weights(matrix);
        var sums = new double[bias.Length];
        for (var o = 0; o < sums.Length; o++)
        {
            sums[o] = bias[o];
            for (var i = 0; i < x.Length; i++) sums[o] += weights[(o * x.Length) + i] * x[i];
        }

        return sums;
    }

    private double[] Front(SonorityFeatures.Row row)
    {
        var dense = new double[SonorityFeatures.Width];
        for (var i = 0; i < row.Indices.Length; i++) dense[row.Indices[i]] = row.Values[i];
        var sums = Linear(Matrix("first.weight"), Vector("first.bias"), dense);
        var mean = sums.Average();
        var deviation = Math.Sqrt(sums.Average(v => (v - mean) * (v - mean)) + 1e-5);
        return [.. sums.Select((v, i) => Math.Max(0, ((v - mean) / deviation * Vector("norm.weight")[i]) + Vector("norm.bias")[i]))];
    }

    private double[][] States(string name, int layers, int units, double[][] steps)
    {
        for (var layer = 0; layer < layers; layer++)
        {
            var forwards = OneWay($"_l{layer}", steps);
            double[][] backwards = [.. OneWay($"_l{layer}_reverse", [.. steps.Reverse()]).Reverse()];
            steps = [.. forwards.Zip(backwards, (f, b) => (double[])[.. f, .. b])];
        }

        return steps;

        double[][] OneWay(string end, double[][] inputs)
        {
            var state = new double[units];
            return
            [
                .. inputs.Select(x => state = Step(
                    Matrix($"{name}.weight_ih{end}"), Vector($"{name}.bias_ih{end}"), Matrix($"{name}.weight_hh{end}"),
                        Vector($"{name}.bias_hh{end}"), x, state)),
            ];
        }
    }
}
