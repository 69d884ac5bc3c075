using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>Finds phrases and their cadences.</summary>
internal static class PhraseFinder
{
    // A phrase of more measures than this is not looked for.
    private const int Longest = 40;

    // The best place for a start before a downbeat, what it is worth, and whether the music goes on into it without a pause.
    private readonly record struct Place(Fraction Onset, Fraction Downbeat, double Worth, bool GoesOn);

    /// <summary>The phrases of a score, in order, without gaps from its start to its end.</summary>
    public static IReadOnlyList<Phrase> Find(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(sonorities);
        ArgumentNullException.ThrowIfNull(reading);
        return Find(score, sonorities, new GroupingEvidence(score, sonorities), reading);
    }

    /// <summary>The same with cues of grouping that were gathered before.</summary>
    internal static IReadOnlyList<Phrase> Find(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping,
        HarmonicReading reading)
    {
        if (score.Measures.Count == 0) return [];
        var arrivals = Cadences.Find(reading, sonorities);
        var starts = sonorities.Count == 0 ? [] : Choose(score, new PhraseEvidence(score, sonorities, grouping, reading, arrivals)
            .Starts(), HarmonicPace(reading));
        var phrases = new Phrase[starts.Count + 1];
        for (var i = 0; i < phrases.Length; i++)
        {
            var start = i == 0 ? score.Start : starts[i - 1].Onset;
            var (end, goesOn) = i == starts.Count ? (score.End, false) : starts[i];
            var (key, cadence) = Ending(start, end, goesOn, score, reading, arrivals);
            phrases[i] = new Phrase(i + 1, start, end, key, cadence);
        }

        return phrases;
    }

    // The best way to cut the score: the sum of what each cut and each length is worth, by dynamic programming over the best
    // place before each downbeat.
    private static List<(Fraction Onset, bool GoesOn)> Choose(Score score, IEnumerable<PhraseStart> starts, double pace)
    {
        var first = score.Measures[0];
        var opening = first.PickupOffset.Sign > 0 ? first.End : first.Start;
        List<Place> places = [new(score.Start, opening, 0, false)];
        foreach (var start in starts)
        {
            if (start.Downbeat <= opening) continue;
            var place = new Place(start.Onset, start.Downbeat, PhraseWeights.Of(start), !PhraseWeights.Pauses(start));
            if (places[^1].Downbeat != start.Downbeat) places.Add(place);
            else if (places.Count > 1 && places[^1].Worth < place.Worth) places[^1] = place;
        }

        places.Add(new(score.End, score.End, 0, false));
        // Phrases of one score like to be alike: what a first search finds tells the second one what is usual.
        var usual = PhraseWeights.UsualHarmonies * pace;
        var found = Search(score, places, pace, usual);
        if (found.Count > 0)
        {
            var lengths = found.Zip(found.Skip(1).Append(places[^1]), (a, b) => (b.Onset - a.Onset).ToDouble())
                .Prepend((found[0].Onset - score.Start).ToDouble()).Order().ToList();
            found = Search(score, places, pace, Math.Sqrt(usual * lengths[lengths.Count / 2]));
        }

        return [.. found.Select(p => (p.Onset, p.GoesOn))];
    }

    private static List<Place> Search(Score score, List<Place> places, double pace, double usual)
    {
        var best = new double[places.Count];
        var back = new int[places.Count];
        for (var to = 1; to < places.Count; to++)
        {
            best[to] = double.NegativeInfinity;
            for (var from = to - 1; from >= 0; from--)
            {
                var span = score.MeasureAt(places[from].Downbeat).Time.Length;
                var measures = ((places[to].Downbeat - places[from].Downbeat) / span).ToDouble();
                if (measures > Longest && from < to - 1) break;
                var felt = measures / Felt(span.ToDouble(), pace);
                var quarters = Math.Max((places[to].Onset - places[from].Onset).ToDouble(), 0.25);
                var worth = best[from] + PhraseWeights.OfLength(felt, quarters / usual) + places[to].Worth;
                if (worth > best[to]) (best[to], back[to]) = (worth, from);
            }
        }

        var chosen = new List<Place>();
        for (var at = back[^1]; at > 0; at = back[at]) chosen.Add(places[at]);
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
            if (before is null || before.Key != chord.Key
                || before.Numeral!.Root(before.Key) != chord.Numeral!.Root(chord.Key)) harmonies++;
            before = chord;
        }

        return harmonies == 0 ? 1 : quarters / harmonies;
    }

    // How many written measures make one that is felt.
    private static double Felt(double span, double pace) => Math.Pow(2, Math.Clamp(Math.Round(Math.Log2(2.7 * pace / span)), -1, 0));

    private static (Key Key, Cadence Cadence) Ending(
        Fraction start, Fraction end, bool goesOn, Score score, HarmonicReading reading, IReadOnlyList<Arrival> arrivals)
    {
        var span = score.MeasureAt(end).Time.Length;
        var last = reading.Chords.LastOrDefault(c => c.Onset < end && c.Numeral is not null);
        var key = last?.Key ?? reading.HomeKey;
        // The last clear arrival of the last measure and a half; an arrival with which the next phrase begins closes this one too,
        // before any other where the dominant goes on into it without a pause: a half cadence rests on a triad, most often on a downbeat.
        var near = arrivals.Where(a => a.Onset > start && a.Onset <= end && end - a.Onset <= span * 3 / 2).ToList();
        var shared = near.LastOrDefault(a => a.Onset == end && a.Strength >= 0.4);
        var passesOn = goesOn && last is not null && shared is not null
            && (last.Numeral!.Quality.IsSeventh() || (shared.Kind == Cadence.PerfectAuthentic && score.MeasureAt(last.Onset)
                .Start != last.Onset));
        var arrival = (passesOn ? shared : null)
            ?? near.Where(a => a.Onset < end && a.End >= last!.Onset).MaxBy(a => a.Strength)
            ?? shared
            ?? near.Where(a => a.Onset < end && a.Strength >= 0.4).MaxBy(a => a.Strength);
        return (key, arrival?.Kind ?? Cadence.None);
    }
}
