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
    [InlineData(24, 8, 5)]
    [InlineData(32, 72, 33)]
    [InlineData(40, 17, 1)]
    [InlineData(56, 64, 3)]
    [InlineData(64, 96, 248)]
    [InlineData(254, 128, 7)]
    public void A_product_is_the_sum_of_products(int outputs, int inputs, int rows)
    {
        var numbers = new Numbers(outputs);
        var (weights, bias, first, second) = (numbers.Next(outputs * inputs), numbers.Next(outputs), numbers.Next((rows * 9) + 3),
            numbers.Next(rows * inputs));
        var matrix = new PackedMatrix(weights, bias, outputs, inputs);
        var onto = numbers.Next(rows * matrix.Stride);

        // A part of seven numbers of every nine, and the rest from elsewhere.
        InputRows[] parts = [new(first, 3, 9, 7), new(second, 1, inputs - 7, inputs - 7)];
        var (plain, added) = (new float[rows * matrix.Stride], new float[rows * matrix.Stride]);
        matrix.Multiply(parts, rows, plain);
        matrix.Multiply(parts, rows, added, onto, clamp: true);

        for (var row = 0; row < rows; row++)
        {
            for (var o = 0; o < outputs; o++)
            {
                double sum = 0;
                for (var i = 0; i < inputs; i++)
                    sum += weights[(o * inputs) + i] * (double)(i < 7 ? first[3 + (row * 9) + i]
                        : second[1 + (row * (inputs - 7)) + i - 7]);
                var at = (row * matrix.Stride) + o;
                Assert.Equal(sum + bias[o], plain[at], Near);
                Assert.Equal(Math.Max(0, sum + onto[at]), added[at], Near);
            }
        }
    }

    [Fact]
    public void A_product_of_parts_that_do_not_make_up_a_row_is_refused()
    {
        var matrix = new PackedMatrix(new float[64], new float[8], 8, 8);

        Assert.Throws<ArgumentException>(() => matrix.Multiply([new InputRows(new float[64], 0, 7)], 4, new float[32]));
        Assert.Throws<ArgumentOutOfRangeException>(() => matrix.Multiply([new InputRows(new float[31], 0, 8)], 4, new float[32]));
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
    [InlineData(8, 24, 31)]
    [InlineData(24, 32, 4)]
    [InlineData(32, 40, 6)]
    [InlineData(24, 40, 1)]
    public void A_gated_unit_steps_as_its_gates_say(int units, int inputs, int rows)
    {
        var numbers = new Numbers(units);
        var (input, inputBias) = (numbers.Next(3 * units * inputs, .5), numbers.Next(3 * units));
        var (state, stateBias) = (numbers.Next(3 * units * units, .5), numbers.Next(3 * units));
        var (x, before) = (numbers.Next(rows * inputs), numbers.Next(rows * units));
        var unit = new GatedUnit(input, inputBias, state, stateBias);
        var (gates, after) = (new float[rows * unit.Input.Stride], new float[rows * units]);
        unit.Input.Multiply([new InputRows(x, 0, inputs)], rows, gates);
        unit.Step(gates, new InputRows(before, 0, units), new float[gates.Length], after, rows);

        for (var row = 0; row < rows; row++)
        {
            var expected = PlainNetwork.Step(
                input, inputBias, state, stateBias, PlainNetwork.Row(x, row, inputs), PlainNetwork.Row(before, row, units));
            for (var u = 0; u < units; u++) Assert.Equal(expected[u], after[(row * units) + u], Near);
        }
    }
}
