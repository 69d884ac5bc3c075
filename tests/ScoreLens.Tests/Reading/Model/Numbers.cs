namespace ScoreLens.Tests.Reading.Model;

/// <summary>Made-up numbers for tests of the network's parts, the same in every run.</summary>
internal sealed class Numbers(int seed)
{
    private readonly Random _random = new(seed);

    public float[] Next(int count, double size = 1) => [.. Enumerable.Range(0, count)
        .Select(_ => (float)(((2 * _random.NextDouble()) - 1) * size))];

    public int Below(int end) => _random.Next(end);
}
