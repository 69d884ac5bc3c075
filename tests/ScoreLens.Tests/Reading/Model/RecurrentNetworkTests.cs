using ScoreLens.Reading.Model;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

public class RecurrentNetworkTests
{
    private const int Outputs = 100;
    private const int Stride = 112;

    // What enters a product is rounded to fourteen bits.
    private const double Near = 2e-3;

    [Theory]
    [InlineData(24, 16, 1, 8, 1, 1)]
    [InlineData(24, 16, 2, 8, 2, 23)]
    [InlineData(40, 24, 1, 16, 2, 33)]
    [InlineData(32, 40, 2, 24, 1, 70)]
    public void A_network_says_what_the_same_layers_written_plainly_say(int front, int hidden, int layers, int beat, int beatLayers,
        int verticals)
    {
        var sizes = new RecurrentNetwork.Sizes(front, hidden, layers, beatLayers);
        var plain = new PlainNetwork(sizes, beat, Outputs);
        var network = new RecurrentNetwork(sizes, plain.Matrix, plain.Vector);
        var (rows, moments) = Music(verticals);
        var output = new float[verticals * Stride];
        network.AddTo(rows, moments, output, Stride);

        var expected = plain.Run(rows, moments);
        for (var t = 0; t < verticals; t++)
            for (var i = 0; i < Outputs; i++) Assert.Equal(expected[t][i], output[(t * Stride) + i], Near * (1 + Math.Abs(expected[t][i])));
    }

    [Fact]
    public void What_a_network_says_is_added_to_what_is_there()
    {
        var sizes = new RecurrentNetwork.Sizes(24, 16, 1, 1);
        var plain = new PlainNetwork(sizes, 8, Outputs);
        var network = new RecurrentNetwork(sizes, plain.Matrix, plain.Vector);
        var (rows, moments) = Music(5);
        var (once, twice) = (new float[5 * Stride], new float[5 * Stride]);
        network.AddTo(rows, moments, once, Stride);
        network.AddTo(rows, moments, twice, Stride);
        network.AddTo(rows, moments, twice, Stride);

        Every.Item(once.Zip(twice), pair => Assert.Equal(2 * pair.First, pair.Second));
    }

    [Fact]
    public void Nothing_is_said_of_no_verticals()
    {
        var sizes = new RecurrentNetwork.Sizes(24, 16, 1, 1);
        float[] output = [7];
        var plain = new PlainNetwork(sizes, 8, Outputs);
        new RecurrentNetwork(sizes, plain.Matrix, plain.Vector).AddTo([], [], output, Stride);

        Assert.Equal(7, output[0]);
    }

    // Sparse rows as features are, in beats of one to three verticals.
    private static (SonorityFeatures.Row[] Rows, RecurrentNetwork.Moment[] Moments) Music(int verticals)
    {
        var numbers = new Numbers(verticals);
        var rows = new SonorityFeatures.Row[verticals];
        var moments = new RecurrentNetwork.Moment[verticals];
        long quarter = 0;
        for (var t = 0; t < verticals; t++)
        {
            ushort[] indices = [.. Enumerable.Range(0, 70).Select(_ => (ushort)numbers.Below(SonorityFeatures.Width)).Distinct().Order()];
            rows[t] = new SonorityFeatures.Row(indices, numbers.Next(indices.Length));
            quarter += numbers.Below(2);
            moments[t] = new RecurrentNetwork.Moment(quarter, 1 + numbers.Below(3));
        }

        return (rows, moments);
    }
}
