using ScoreLens.Reading.Model;
using ScoreLens.Reading.Search;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>Scores of all numerals together against the plain sum of each one's factors.</summary>
public class NumeralSumsTests
{
    private const int Places = SonorityFeatures.Places;

    private static readonly NumeralVocabulary Vocabulary = ReadingModel.Default.Vocabulary;

    private static readonly NumeralClass[] WithoutInversion =
        [.. Vocabulary.OfMode.SelectMany(list => list).Order().Select(entry => Vocabulary.Classes[entry] with { Inversion = 0 })
            .Distinct()];

    [Fact]
    public void Each_numeral_has_one_factor_of_every_kind()
    {
        var factors = Factors(1);
        foreach (var entry in Vocabulary.OfMode.SelectMany(list => list))
            foreach (var tonic in (int[])[0, 1, 17, 33, 34])
                Assert.Equal(PlainScore(factors, entry, tonic), Vocabulary.Score(factors, entry, tonic), 1e-4);
    }

    [Fact]
    public void The_numerals_of_a_key_score_as_each_one_does_vertical_after_vertical()
    {
        var scores = new NumeralScores(Vocabulary);
        foreach (var (t, mode, tonic) in ((int, int, int)[])[(0, 0, 17), (0, 1, 17), (0, 1, 0), (1, 1, 34), (2, 0, 20), (1, 0, 3)])
        {
            var factors = Factors(t);
            var found = scores.Of(t, factors, mode, tonic, out var total);
            float[] plain = [.. Vocabulary.OfMode[mode].Select(entry => Vocabulary.Score(factors, entry, tonic))];
            Assert.Equal(plain, found.ToArray());
            Assert.Equal(Math.Log(plain.Sum(s => Math.Exp(s))), total, 1e-5);
        }
    }

    [Theory]
    [InlineData(-100, 2)]
    [InlineData(-1, 2)]
    [InlineData(1.5, 2)]
    [InlineData(-100, 40)]
    public void The_sum_of_a_key_is_that_of_all_its_numerals(double least, double size)
    {
        var sums = new KeySums(Vocabulary);
        for (var vertical = 0; vertical < 3; vertical++)
        {
            var factors = Factors(vertical, size);
            var logs = new double[2 * Places];
            sums.Of(factors, (float)least, logs);
            for (var place = 0; place < logs.Length; place++)
            {
                var (mode, tonic) = Math.DivRem(place, Places);
                if (factors[place] < least) Assert.Equal(double.NegativeInfinity, logs[place]);
                else Assert.Equal(PlainSum(factors, mode, tonic), logs[place], 1e-4);
            }
        }
    }

    private static double PlainSum(float[] factors, int mode, int tonic)
    {
        double[] scores = [.. Vocabulary.OfMode[mode].Select(entry => PlainScore(factors, entry, tonic))];
        return scores.Max() + Math.Log(scores.Sum(s => Math.Exp(s - scores.Max())));
    }

    private static double PlainScore(float[] factors, int entry, int tonic)
    {
        var c = Vocabulary.Classes[entry];
        return (double)factors[((int)c.Mode * Places) + tonic]
            + factors[Vocabulary.RootAt + Place(tonic + c.Root)]
            + factors[Vocabulary.BassAt + Place(tonic + c.Root + c.Members[c.Inversion])]
            + factors[Vocabulary.TargetAt + (c.Target is { } target ? Place(tonic + target) : Places)]
            + factors[Vocabulary.QualityAt + (int)c.Quality]
            + factors[Vocabulary.InversionAt + c.Inversion]
            + factors[Vocabulary.NumeralAt + Array.IndexOf(WithoutInversion, c with { Inversion = 0 })];
    }

    private static int Place(int place) => Math.Clamp(place, 0, Places - 1);

    private static float[] Factors(int seed, double size = 2) => new Numbers(seed).Next(Vocabulary.Outputs, size);
}
