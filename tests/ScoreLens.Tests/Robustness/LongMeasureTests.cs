using System.Text;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using Xunit;
using static ScoreLens.Tests.Notation.MusicXml.Xml;

namespace ScoreLens.Tests.Robustness;

/// <summary>Measures and scores longer than any music: found by fuzzing, where the reduction ran out of stack and time.</summary>
public sealed class LongMeasureTests
{
    [Fact]
    public void A_measure_of_thousands_of_quarters_reduces()
    {
        var xml = Partwise(Divisions(1) + Notes("C4 3000", "G4 3000"));
        var reduction = HarmonicReduction.Of(CueAnalysis.Of(Parse(xml)));
        var read = ScoreFile.Parse(ReductionScore.MusicXml(reduction, LabelOptions.Default)).Score;
        Assert.Equal(6000, read.End);
    }

    [Fact]
    public void A_score_longer_than_the_limit_is_refused_with_its_length()
    {
        var error = Assert.Throws<ScoreFormatException>(() => Parse(Partwise(Divisions(1) + Notes("C4 1000000"))));
        Assert.Contains("1000000 quarter notes", error.Message, StringComparison.Ordinal);
        Assert.Equal(1_000_000, Parse(Partwise(Divisions(1) + Notes("C4 1000000")), new ScoreLimits { MaxQuarters = 1_000_000 }).End);
    }

    private static Score Parse(string xml, ScoreLimits? limits = null) =>
        ScoreFile.Parse(Encoding.UTF8.GetBytes(xml), limits is null ? null : new ScoreReadOptions { Limits = limits }).Score;
}
