using ScoreLens.Marking.Facts;

namespace ScoreLens.Marking.Wording;

/// <summary>Sentences about the balance of diatonic and chromatic music.</summary>
internal static class BalanceWords
{
    public static string Text(BalanceFacts facts) =>
        $"{Amounts.Percent(facts.Share)} of the time lies outside {(facts.OfHomeKey ? "the home key" : "the key")}; the assignment "
            + $"asks for {facts.Band} %.";

    public static string Advice(BalanceFacts facts)
    {
        var what = facts.Share > facts.Band.High
            ? "Replace some chords from outside by chords of the key."
            : "Colour one or two more chords: an applied dominant or a borrowed chord.";
        return facts.WorstMeasure is null
            ? what
            : $"{what} Begin with the phrase from measure {facts.WorstMeasure}, at {Amounts.Percent(facts.WorstShare)}.";
    }
}
