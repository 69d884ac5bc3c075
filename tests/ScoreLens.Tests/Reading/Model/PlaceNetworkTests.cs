using ScoreLens.Reading.Model;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

public class PlaceNetworkTests
{
    private const int Outputs = 200;
    private const int Stride = 208;

    [Theory]
    [InlineData(24, 16, 48, 1)]
    [InlineData(24, 16, 48, 23)]
    [InlineData(32, 24, 56, 9)]
    [InlineData(64, 48, 96, 10)]
    public void A_network_says_what_the_same_layers_written_plainly_say(int channels, int hidden, int tail, int verticals)
    {
        var plain = new PlainNetwork(channels, hidden, tail, 15, 31, Outputs);
        var network = new PlaceNetwork(channels, hidden, tail, 15, 31, Outputs, plain.Read);
        var (rows, moments) = Music(verticals);
        var output = new float[verticals * Stride];
        network.AddTo(rows, moments, output, Stride);

        var expected = plain.Run(rows, moments);
        for (var t = 0; t < verticals; t++)
            for (var i = 0; i < Outputs; i++) Assert.Equal(expected[t][i], output[(t * Stride) + i], 1e-4 * (1 + Math.Abs(expected[t][i])));
    }

    [Fact]
    public void What_a_network_says_is_added_to_what_is_there()
    {
        var network = new PlaceNetwork(24, 16, 48, 15, 31, Outputs, new PlainNetwork(24, 16, 48, 15, 31, Outputs).Read);
        var (rows, moments) = Music(5);
        var (once, twice) = (new float[5 * Stride], new float[5 * Stride]);
        network.AddTo(rows, moments, once, Stride);
        network.AddTo(rows, moments, twice, Stride);
        network.AddTo(rows, moments, twice, Stride);

        Assert.All(once.Zip(twice), pair => Assert.Equal(2 * pair.First, pair.Second));
    }

    // Spans of 1,024 verticals, each read with 96 more on either side.
    [Fact]
    public void A_long_score_is_read_as_its_spans_are()
    {
        var network = new PlaceNetwork(24, 16, 48, 15, 31, Outputs, new PlainNetwork(24, 16, 48, 15, 31, Outputs).Read);
        var (rows, moments) = Music(1200);
        var (all, start, end) = (new float[1200 * Stride], new float[1120 * Stride], new float[272 * Stride]);
        network.AddTo(rows, moments, all, Stride);
        network.AddTo(rows.AsSpan(0, 1120), moments.AsSpan(0, 1120), start, Stride);
        network.AddTo(rows.AsSpan(928), moments.AsSpan(928), end, Stride);

        Assert.Equal(start[..(1024 * Stride)], all[..(1024 * Stride)]);
        Assert.Equal(end[(96 * Stride)..], all[(1024 * Stride)..]);
    }

    // Sparse rows as features are, in beats of one to three verticals.
    private static (SonorityFeatures.Row[] Rows, PlaceNetwork.Moment[] Moments) Music(int verticals)
    {
        var numbers = new Numbers(verticals);
        var rows = new SonorityFeatures.Row[verticals];
        var moments = new PlaceNetwork.Moment[verticals];
        long quarter = 0;
        for (var t = 0; t < verticals; t++)
        {
            ushort[] indices = [.. Enumerable.Range(0, 70).Select(_ => (ushort)numbers.Below(SonorityFeatures.Width)).Distinct().Order()];
            rows[t] = new SonorityFeatures.Row(indices, numbers.Next(indices.Length));
            quarter += numbers.Below(2);
            moments[t] = new PlaceNetwork.Moment(quarter, 1 + numbers.Below(3));
        }

        return (rows, moments);
    }
}
