using ScoreLens.Reading.Model;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>Made-up numbers for tests of the network's parts, the same in every run.</summary>
internal sealed class Numbers(int seed)
{
    private readonly Random _random = new(seed);

    public float[] Next(int count, double size = 1) => [.. Enumerable.Range(0, count)
        .Select(_ => (float)(((2 * _random.NextDouble()) - 1) * size))];

    /// <summary>A matrix of weights of about a size, each output with a scale of its own.</summary>
    public WeightMatrix Matrix(int outputs, int inputs, double size = 1) => new(
        [.. Enumerable.Range(0, outputs * inputs).Select(_ => (sbyte)_random.Next(-127, 128))],
        [.. Enumerable.Range(0, outputs).Select(_ => (float)((0.5 + _random.NextDouble()) * size / 127))]);

    public int Below(int end) => _random.Next(end);
}
