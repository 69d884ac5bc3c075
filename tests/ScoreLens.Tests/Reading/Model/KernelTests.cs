using System.Runtime.Intrinsics;
using ScoreLens.Reading.Model;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>Each part of the network against a plain loop in double precision.</summary>
public class KernelTests
{
    private const double Near = 2e-5;

    [Theory]
    [InlineData(5, 48, 62)]
    [InlineData(8, 24, 4)]
    [InlineData(16, 40, 31)]
    [InlineData(40, 18, 1)]
    [InlineData(56, 64, 3)]
    [InlineData(254, 128, 7)]
    public void A_product_is_the_sum_of_products(int outputs, int inputs, int rows)
    {
        var numbers = new Numbers(outputs);
        var (weights, bias) = (numbers.Matrix(outputs, inputs), numbers.Next(outputs));
        var matrix = new PackedMatrix(weights, bias);
        var input = Whole(numbers, inputs, rows);
        var onto = numbers.Next(rows * matrix.Stride);
        var (plain, added) = (new float[rows * matrix.Stride], (float[])onto.Clone());
        matrix.Multiply(input, rows, plain);
        matrix.Multiply(input, rows, added, Onto.Output);

        for (var row = 0; row < rows; row++)
        {
            for (var o = 0; o < outputs; o++)
            {
                // Whole numbers, and so exact.
                long sum = 0;
                for (var i = 0; i < inputs; i++) sum += weights.Row(o)[i] * input.Numbers[input.Start + (row * input.Stride) + i];
                var product = (double)sum * weights.Scales[o] * input.Steps[input.FirstStep + row];
                var at = (row * matrix.Stride) + o;
                Assert.Equal(product + bias[o], plain[at], Near * (1 + Math.Abs(product)));
                Assert.Equal(product + onto[at], added[at], Near * (1 + Math.Abs(product)));
            }
        }
    }

    [Fact]
    public void A_row_has_the_same_products_alone_and_among_others()
    {
        var numbers = new Numbers(3);
        var matrix = new PackedMatrix(numbers.Matrix(48, 40), numbers.Next(48));
        var input = Whole(numbers, 40, 9);
        var (together, alone) = (new float[9 * matrix.Stride], new float[9 * matrix.Stride]);
        matrix.Multiply(input, 9, together);
        for (var row = 0; row < 9; row++) matrix.Multiply(input.From(row), 1, alone.AsSpan(row * matrix.Stride));

        Assert.Equal(together, alone);
    }

    [Fact]
    public void The_largest_sum_that_a_matrix_takes_fits()
    {
        const int Inputs = 1032;
        var matrix = new PackedMatrix(new WeightMatrix([.. Enumerable.Repeat((sbyte)127, Inputs)], [1]), []);
        var input = new Quantised([.. Enumerable.Repeat((short)Quantised.Most, Inputs)], 0, Inputs, [1], 0);
        var output = new float[matrix.Stride];
        matrix.Multiply(input, 1, output);

        Assert.Equal(127f * Quantised.Most * Inputs, output[0]);
        Assert.Throws<InvalidDataException>(() => new PackedMatrix(new WeightMatrix(new sbyte[Inputs + 1], [1]), []));
    }

    [Fact]
    public void A_product_reads_and_writes_nothing_beyond_its_rows()
    {
        var matrix = new PackedMatrix(new WeightMatrix(new sbyte[64], new float[8]), new float[8]);

        Assert.Throws<ArgumentOutOfRangeException>(() => matrix.Multiply(new Quantised(new short[31], 0, 8, new float[4], 0), 4, new float[64]));
        Assert.Throws<ArgumentOutOfRangeException>(() => matrix.Multiply(new Quantised(new short[32], 0, 8, new float[3], 0), 4, new float[64]));
        Assert.Throws<IndexOutOfRangeException>(() => matrix.Multiply(new Quantised(new short[32], 0, 8, new float[4], 0), 4, new float[63]));
    }

    [Fact]
    public void Pairs_are_multiplied_alike_by_every_processor()
    {
        var numbers = new Numbers(11);
        for (var round = 0; round < 100; round++)
        {
            short[] a = [.. Enumerable.Range(0, 16).Select(_ => (short)(numbers.Below(255) - 127))];
            short[] b = [.. Enumerable.Range(0, 16).Select(_ => (short)(numbers.Below((2 * Quantised.Most) + 1) - Quantised.Most))];
            var quick = Pairs.Multiply(Vector256.Create(a), Vector256.Create(b));
            for (var i = 0; i < 8; i++) Assert.Equal((a[2 * i] * b[2 * i]) + (a[(2 * i) + 1] * b[(2 * i) + 1]), quick[i]);
            Assert.Equal(quick.GetLower(), Pairs.InPlainCode(Vector128.Create(a[..8]), Vector128.Create(b[..8])));
        }
    }

    [Fact]
    public void A_rounded_row_is_off_by_half_a_step_at_most()
    {
        var row = new Numbers(5).Next(48, 7);
        var rounded = new short[48];
        var step = Quantised.Round(row, rounded);

        Assert.Equal(row.Max(Math.Abs) / Quantised.Most, step, 1e-9);
        for (var i = 0; i < row.Length; i++) Assert.InRange(Math.Abs(row[i] - (rounded[i] * (double)step)), 0, 0.501 * step);
        Assert.Equal(0, Quantised.Round(new float[16], rounded));
        Every.Item(rounded[..16], number => Assert.Equal(0, number));
    }

    [Fact]
    public void Features_are_summed_with_their_weights()
    {
        var numbers = new Numbers(4);
        var (weights, bias) = (numbers.Matrix(24, 60), numbers.Next(24));
        var columns = new FeatureColumns(weights, bias);
        var row = new SonorityFeatures.Row([3, 17, 59], numbers.Next(3, 2));
        var sums = new float[columns.Stride];
        columns.Sum(row, sums);

        for (var o = 0; o < 24; o++)
        {
            double sum = bias[o];
            for (var i = 0; i < 3; i++) sum += weights.Row(o)[row.Indices[i]] * (double)weights.Scales[o] * row.Values[i];
            Assert.Equal(sum, sums[o], Near);
        }
    }

    [Theory]
    [InlineData(8)]
    [InlineData(40)]
    public void A_norm_has_mean_nought_and_deviation_one_before_it_is_scaled(int size)
    {
        var numbers = new Numbers(size);
        var (scale, shift, rows) = (numbers.Next(size), numbers.Next(size), numbers.Next(3 * size, 9));
        var output = new float[rows.Length];
        new ClampedNorm(scale, shift).Apply(rows, output);

        for (var row = 0; row < 3; row++)
        {
            var own = rows.AsSpan(row * size, size).ToArray();
            var mean = own.Average(x => (double)x);
            var deviation = Math.Sqrt(own.Average(x => (x - mean) * (x - mean)) + 1e-5);
            for (var i = 0; i < size; i++)
                Assert.Equal(Math.Max(0, ((own[i] - mean) / deviation * scale[i]) + shift[i]), output[(row * size) + i], Near);
        }
    }

    [Fact]
    public void The_hyperbolic_tangent_and_the_logistic_curve_are_the_known_functions()
    {
        for (var x = -30.0; x <= 30; x += 1 / 512.0)
        {
            Assert.Equal(Math.Tanh(x), Activation.Tanh(Vector256.Create((float)x))[3], 1e-6);
            Assert.Equal(1 / (1 + Math.Exp(-x)), Activation.Sigmoid(Vector256.Create((float)x))[5], 1e-6);
        }

        Assert.Equal(1, Activation.Tanh(Vector256.Create(1e30f))[0], 1e-6);
        Assert.Equal(0, Activation.Sigmoid(Vector256.Create(-1e30f))[0], 1e-6);
    }

    [Theory]
    [InlineData(8, 24, 24)]
    [InlineData(24, 32, 32)]
    [InlineData(32, 40, 24)]
    public void A_gated_unit_steps_as_its_gates_say(int units, int inputs, int own)
    {
        var numbers = new Numbers(units);
        var (input, inputBias) = (numbers.Matrix(3 * units, inputs, .5), numbers.Next(3 * units));
        var (state, stateBias) = (numbers.Matrix(3 * units, units, .5), numbers.Next(3 * units));
        var (x, before) = (Whole(numbers, inputs, 1), Whole(numbers, units, 1) with { Steps = [Quantised.OfOne], FirstStep = 0 });
        var unit = new GatedUnit(input, inputBias, state, stateBias, own);
        var gates = new float[unit.Input.Stride];
        unit.Shared?.Multiply(x with { Start = x.Start + own }, 1, gates);
        unit.Input.Multiply(x, 1, gates, unit.Shared is null ? Onto.Bias : Onto.Output);
        var values = Values(before, units);
        var next = values.Select(v => (float)v).ToArray();
        var rounded = new short[units];
        unit.Step(gates, before, new float[gates.Length], next, rounded);

        var expected = PlainNetwork.Step(input, inputBias, state, stateBias, Values(x, inputs), values);
        for (var u = 0; u < units; u++)
        {
            Assert.Equal(expected[u], next[u], Near);
            Assert.Equal(next[u], rounded[u] * Quantised.OfOne, Quantised.OfOne);
        }
    }

    // Rows of whole numbers, with room before and between them.
    private static Quantised Whole(Numbers numbers, int inputs, int rows) => new(
        [.. Enumerable.Range(0, 3 + (rows * (inputs + 5))).Select(_ => (short)(numbers.Below(2 * Quantised.Most) - Quantised.Most))],
        3, inputs + 5, [.. numbers.Next(rows + 1).Select(x => Math.Abs(x) / Quantised.Most)], 1);

    private static double[] Values(Quantised rows, int count) =>
        [.. Enumerable.Range(0, count).Select(i => rows.Numbers[rows.Start + i] * (double)rows.Steps[rows.FirstStep])];
}
