using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading;

public class StatedConfidenceTests
{
    private static readonly Key C = new(new Tone(0), Mode.Major);

    [Fact]
    public void A_surer_chord_stays_the_surer_one()
    {
        var stated = Of(0.5, 0.8, 0.95);
        Assert.Equal(stated.OrderBy(p => p), stated);
    }

    [Fact]
    public void What_is_stated_is_a_probability_even_where_the_model_knows_no_doubt() =>
        Every.Item(Of(0, 1e-9, 1 - 1e-9, 1), p => Assert.InRange(p, 0.001, 0.999));

    [Fact]
    public void Runners_up_take_what_the_chosen_reading_gives_away_and_never_overtake_it()
    {
        var chord = Chord(0, 0.9) with { RunnersUp = [new(C, Numeral.Parse("vi"), 0.06), new(C, Numeral.Parse("I6"), 0.02)] };
        var stated = StatedConfidence.Of([chord], []).Single();
        Assert.True(stated.Confidence < chord.Confidence);
        Assert.Equal(3, stated.RunnersUp[0].Probability / stated.RunnersUp[1].Probability, 6);
        Every.Item(stated.RunnersUp, r => Assert.True(r.Probability <= stated.Confidence));
        Assert.True(stated.Confidence + stated.RunnersUp.Sum(r => r.Probability) <= 1 + 1e-9);
    }

    [Fact]
    public void A_rest_is_no_reading_and_keeps_its_zero()
    {
        var rest = Chord(0, 0) with { Numeral = null };
        Assert.Equal(0, StatedConfidence.Of([rest], []).Single().Confidence);
    }

    private static double[] Of(params double[] probabilities) =>
        [.. StatedConfidence.Of([.. probabilities.Select((p, i) => Chord(i, p))], []).Select(c => c.Confidence)];

    private static ChordReading Chord(int onset, double probability) => new(onset, 1, C, Numeral.Parse("I"), probability, []);
}
