using ScoreLens.Density;
using ScoreLens.Notation;
using ScoreLens.Wording;
using Xunit;

namespace ScoreLens.Tests.Devices;

/// <summary>What is less sure than is asked for is left out of devices and shares, and said.</summary>
public sealed class SureTests
{
    private static readonly CueAnalysis Analysis = CueAnalysis.Of(ScoreFile.Load(Path.Combine(Places.TestData,
        "lamplight.musicxml")).Score);

    [Fact]
    public void Nothing_is_left_out_where_nothing_is_asked_for() => Assert.Same(Analysis, Analysis.AtLeast(0));

    [Fact]
    public void Devices_of_less_sure_readings_count_in_no_share_and_their_rows_say_why()
    {
        var least = Analysis.Chords.Where(c => c.IsOutside).Select(c => c.Reading.Confidence).Order().ElementAt(1);
        var sure = Analysis.AtLeast(least);
        var left = Analysis.Chords.Zip(sure.Chords).Where(p => p.First.IsOutside && !p.Second.IsOutside).ToArray();
        var (_, doubtful) = Assert.Single(left);
        Assert.Contains("confidence is below", ReasonText.Of(doubtful.Reason), StringComparison.Ordinal);
        Assert.Equal(doubtful.Reading, left[0].First.Reading);
        Assert.Equal(
            CueDensity.Of(Analysis, Band.Default).Whole.OutsideQuarters - doubtful.Reading.Duration,
            CueDensity.Of(sure, Band.Default).Whole.OutsideQuarters);
    }
}
