using ScoreLens.Reading.Model;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>
/// The network of docs/method.md written down plainly, in double precision, as learn.py's class Places has it: places × channels in
/// nested arrays, every layer on its own.
/// </summary>
internal sealed class PlainNetwork(int channels, int hidden, int tail, int kernel, int window, int outputs)
{
    private readonly Dictionary<string, float[]> _arrays = [];
    private readonly Numbers _numbers = new(channels + hidden + tail);

    /// <summary>A network's array by its name: numbers of the size that its layer wants.</summary>
    public float[] Read(string name)
    {
        if (_arrays.TryGetValue(name, out var array)) return array;
        var size = channels + (2 * hidden);
        var layer = name.Split('.')[1];
        int SizeOf() => layer == "0" ? channels : size;
        var count = name.Split('.') switch
        {
            ["first", "weight"] => channels * SonorityFeatures.Planes * kernel,
            ["scalars", "weight"] => channels * SonorityFeatures.Scalars,
            ["conv", "weight"] => 3 * channels * channels,
            ["along", _, "weight"] => SizeOf() * kernel,
            ["along", _, "bias"] => SizeOf(),
            ["point", "2", "weight"] => tail * 2 * size,
            ["point", "2", "bias"] => tail,
            ["point" or "whole", _, "weight"] => channels * 2 * SizeOf(),
            ["grus", _, var part] => 3 * hidden * (part.StartsWith("bias", StringComparison.Ordinal) ? 1 : part.StartsWith("weight_ih", StringComparison.Ordinal) ? channels : hidden),
            ["places", "weight"] => 5 * tail,
            ["places", "bias"] => 5,
            ["rest", "0", "weight"] => 8 * tail * tail,
            ["rest", "0", "bias"] => 2 * tail,
            ["rest", "3", "weight"] => (outputs - (5 * SonorityFeatures.Places)) * 2 * tail,
            ["rest", "3", "bias"] => outputs - (5 * SonorityFeatures.Places),
            _ => channels,
        };
        return _arrays[name] = _numbers.Next(count, name.EndsWith("weight", StringComparison.Ordinal) || name.Contains("weight_", StringComparison.Ordinal) ? 3 / Math.Sqrt(count / channels) : .5);
    }

    public double[][] Run(SonorityFeatures.Row[] rows, PlaceNetwork.Moment[] moments)
    {
        double[][][] h = [.. rows.Select(Front)];
        double[] nothing = new double[channels];
        h =
        [
            .. h.Select((own, t) => Places(p =>
            {
                double[] three = [.. t > 0 ? h[t - 1][p] : nothing, .. own[p], .. t + 1 < h.Length ? h[t + 1][p] : nothing];
                return Add(own[p], Clamp(Linear("conv", three)));
            })),
        ];
        for (var layer = 0; layer < 2; layer++)
        {
            double[][][] z = [.. h.Select(x => Mix(layer, x))];
            int[] of = [.. z.Select((_, t) => layer == 1 ? t : moments[..(t + 1)].Select(m => m.Quarter).Distinct().Count() - 1)];
            double[][][] steps =
            [
                .. Enumerable.Range(0, of[^1] + 1).Select(step => Places(p =>
                {
                    int[] inside = [.. Enumerable.Range(0, of.Length).Where(t => of[t] == step)];
                    var weight = inside.Sum(t => (double)moments[t].Weight);
                    return [.. Enumerable.Range(0, channels).Select(c => inside.Sum(t => z[t][p][c] * moments[t].Weight) / weight)];
                })),
            ];
            var forwards = States(layer, "", steps);
            double[][][] backwards = [.. States(layer, "_reverse", [.. steps.Reverse()]).Reverse()];
            h = [.. z.Select((own, t) => Places(p => [.. own[p], .. forwards[of[t]][p], .. backwards[of[t]][p]]))];
        }

        return [.. h.Select(Tail)];
    }

    /// <summary>A step of a gated recurrent unit, its gates in the order reset, keep, candidate.</summary>
    public static double[] Step(float[] input, float[] inputBias, float[] state, float[] stateBias, double[] x, double[] before)
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

    public static double[] Row(float[] rows, int row, int length) => [.. rows.Skip(row * length).Take(length).Select(x => (double)x)];

    private static double Sigmoid(double x) => 1 / (1 + Math.Exp(-x));

    private static double[] Add(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x + y)];

    private static double[] Clamp(double[] a) => [.. a.Select(x => Math.Max(0, x))];

    private static double[] Linear(float[] weights, float[] bias, double[] x)
    {
        var sums = new double[bias.Length];
        for (var o = 0; o < sums.Length; o++)
        {
            sums[o] = bias[o];
            for (var i = 0; i < x.Length; i++) sums[o] += weights[(o * x.Length) + i] * x[i];
        }

        return sums;
    }

    private static double[] SoftMax(IEnumerable<double> scores)
    {
        double[] powers = [.. scores.Select(Math.Exp)];
        return [.. powers.Select(x => x / powers.Sum())];
    }

    private double[][] Places(Func<int, double[]> at) => [.. Enumerable.Range(0, window).Select(at)];

    private double[] Linear(string name, double[] x) => Linear(Read(name + ".weight"), Read(name + ".bias"), x);

    private double[] Norm(string name, double[] x)
    {
        var mean = x.Average();
        var deviation = Math.Sqrt(x.Average(v => (v - mean) * (v - mean)) + 1e-5);
        return Clamp([.. x.Select((v, i) => ((v - mean) / deviation * Read(name + ".weight")[i]) + Read(name + ".bias")[i])]);
    }

    private double[][] Front(SonorityFeatures.Row row)
    {
        var dense = new double[SonorityFeatures.Width];
        for (var i = 0; i < row.Indices.Length; i++) dense[row.Indices[i]] = row.Values[i];
        var (weights, edge) = (Read("first.weight"), (SonorityFeatures.Places - window) / 2);
        var common = Linear("scalars", dense[(SonorityFeatures.Planes * SonorityFeatures.Places)..]);
        return Places(p =>
        {
            var sums = new double[channels];
            for (var c = 0; c < channels; c++)
            {
                sums[c] = common[c] + Read("first.bias")[c];
                for (var plane = 0; plane < SonorityFeatures.Planes; plane++)
                {
                    for (var tap = 0; tap < kernel; tap++)
                    {
                        var place = p + edge + tap - (kernel / 2);
                        if (place is >= 0 and < SonorityFeatures.Places)
                            sums[c] += weights[(((c * SonorityFeatures.Planes) + plane) * kernel) + tap] * dense[(plane * SonorityFeatures.Places) + place];
                    }
                }
            }

            return Norm("norm", sums);
        });
    }

    private double[][] Along(int layer, double[][] h) => Places(p =>
        [.. h[p].Select((_, c) => Read($"along.{layer}.bias")[c] + Enumerable.Range(0, kernel)
            .Where(tap => p + tap - (kernel / 2) >= 0 && p + tap - (kernel / 2) < window)
            .Sum(tap => Read($"along.{layer}.weight")[(c * kernel) + tap] * h[p + tap - (kernel / 2)][c]))]);

    private double[][] Mix(int layer, double[][] h)
    {
        var along = Along(layer, h);
        var whole = Linear($"whole.{layer}", [.. h[0].Select((_, c) => h.Average(x => x[c])), .. h[0].Select((_, c) => h.Max(x => x[c]))]);
        return Places(p => Norm($"norms.{layer}", Add(Linear($"point.{layer}", [.. h[p], .. along[p]]), whole)));
    }

    private double[][][] States(int layer, string direction, double[][][] steps)
    {
        var state = Places(_ => new double[hidden]);
        return
        [
            .. steps.Select(step => state = Places(p => Step(
                Read($"grus.{layer}.weight_ih_l0{direction}"), Read($"grus.{layer}.bias_ih_l0{direction}"),
                Read($"grus.{layer}.weight_hh_l0{direction}"), Read($"grus.{layer}.bias_hh_l0{direction}"), step[p], state[p]))),
        ];
    }

    private double[] Tail(double[][] h)
    {
        var along = Along(2, h);
        var f = Places(p => Clamp(Linear("point.2", [.. h[p], .. along[p]])));
        var at = Places(p => Linear("places", f[p]));
        var keys = SoftMax([.. at.Select(x => x[0]), .. at.Select(x => x[1])]);
        double[] By(double[] shares) => [.. f[0].Select((_, c) => f.Select((x, p) => x[c] * shares[p]).Sum())];
        double[] all =
        [
            .. By([.. keys[..window].Zip(keys[window..], (a, b) => a + b)]), .. By(SoftMax(at.Select(x => x[2]))), .. By(SoftMax(at.Select(x => x[3]))),
            .. f[0].Select((_, c) => f.Max(x => x[c])),
        ];
        var edge = (SonorityFeatures.Places - window) / 2;
        return
        [
            .. Enumerable.Range(0, 5).SelectMany(factor => Enumerable.Range(-edge, SonorityFeatures.Places).Select(p => p < 0 || p >= window ? -12 : at[p][factor])),
            .. Linear("rest.3", Clamp(Linear("rest.0", all))),
        ];
    }
}
