using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>Finds phrases and their cadences.</summary>
public static class PhraseFinder
{
    // A phrase of more measures than this is not looked for.
    private const int Longest = 40;

    /// <summary>The phrases of a score, in order, without gaps from its start to its end.</summary>
    public static IReadOnlyList<Phrase> Find(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(sonorities);
        ArgumentNullException.ThrowIfNull(reading);
        if (score.Measures.Count == 0) return [];
        var arrivals = Cadences.Find(reading, sonorities);
        var starts = sonorities.Count == 0 ? [] : Choose(score, new PhraseEvidence(score, sonorities, reading, arrivals).Starts(), HarmonicPace(reading));
        var phrases = new Phrase[starts.Count + 1];
        for (var i = 0; i < phrases.Length; i++)
        {
            var start = i == 0 ? Fraction.Zero : starts[i - 1];
            var end = i == starts.Count ? score.End : starts[i];
            var (key, cadence) = Ending(start, end, reading, arrivals, score.MeasureAt(end).Time.Length);
            phrases[i] = new Phrase(i + 1, start, end, key, cadence);
        }

        return phrases;
    }

    // The best way to cut the score: the sum of what each cut and each length is worth, by dynamic programming over the best
    // place before each downbeat.
    private static List<Fraction> Choose(Score score, IEnumerable<PhraseStart> starts, double pace)
    {
        var first = score.Measures[0];
        var opening = first.PickupOffset.Sign > 0 ? first.End : first.Start;
        List<(Fraction Onset, Fraction Downbeat, double Worth)> places = [(Fraction.Zero, opening, 0)];
        foreach (var start in starts)
        {
            if (start.Downbeat <= opening) continue;
            var place = (start.Onset, start.Downbeat, PhraseWeights.Of(start.Cues));
            if (places[^1].Downbeat != start.Downbeat) places.Add(place);
            else if (places.Count > 1 && places[^1].Worth < place.Item3) places[^1] = place;
        }

        var usual = 11 * pace;
        places.Add((score.End, score.End, 0));
        var best = new double[places.Count];
        var back = new int[places.Count];
        for (var to = 1; to < places.Count; to++)
        {
            best[to] = double.NegativeInfinity;
            for (var from = to - 1; from >= 0; from--)
            {
                var span = score.MeasureAt(places[from].Downbeat).Time.Length;
                var measures = ((places[to].Downbeat - places[from].Downbeat) / span).ToDouble();
                var felt = Felt(span.ToDouble(), pace);
                if (measures > Longest && from < to - 1) break;
                var quarters = (places[to].Onset - places[from].Onset).ToDouble();
                var worth = best[from] + PhraseWeights.OfLength(measures / felt, Math.Max(quarters, 0.25) / usual) + places[to].Worth;
                if (worth > best[to]) (best[to], back[to]) = (worth, from);
            }
        }

        var chosen = new List<Fraction>();
        for (var at = back[^1]; at > 0; at = back[at]) chosen.Add(places[at].Onset);
        chosen.Reverse();
        return chosen;
    }

    // Quarter notes from one harmony to the next in the mean, other positions of the same one not counted.
    private static double HarmonicPace(HarmonicReading reading)
    {
        var quarters = 0.0;
        var harmonies = 0;
        ChordReading? before = null;
        foreach (var chord in reading.Chords.Where(c => c.Numeral is not null))
        {
            quarters += chord.Duration.ToDouble();
            if (before is null || before.Key != chord.Key || before.Numeral!.Root(before.Key) != chord.Numeral!.Root(chord.Key)) harmonies++;
            before = chord;
        }

        return harmonies == 0 ? 1 : quarters / harmonies;
    }

    // How many written measures make one that is felt.
    private static double Felt(double span, double pace) => Math.Pow(2, Math.Clamp(Math.Round(Math.Log2(2.7 * pace / span)), -1, 0));

    private static (Key Key, Cadence Cadence) Ending(
        Fraction start, Fraction end, HarmonicReading reading, IReadOnlyList<Arrival> arrivals, Fraction span)
    {
        var last = reading.Chords.LastOrDefault(c => c.Onset < end && c.Numeral is not null);
        var key = last?.Key ?? reading.HomeKey;
        // The last clear arrival of the last measure and a half; an arrival with which the next phrase begins closes this one too.
        var near = arrivals.Where(a => a.Onset > start && a.Onset <= end && end - a.Onset <= span * 3 / 2).ToList();
        var arrival = near.Where(a => a.Onset < end && a.End >= last!.Onset).MaxBy(a => a.Strength)
            ?? near.LastOrDefault(a => a.Onset == end && a.Strength >= 0.4)
            ?? near.Where(a => a.Onset < end && a.Strength >= 0.4).MaxBy(a => a.Strength);
        return (key, arrival?.Kind ?? Cadence.None);
    }
}
