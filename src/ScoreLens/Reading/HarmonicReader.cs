using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>Reads verticals as chords in keys.</summary>
public static class HarmonicReader
{
    private const double KeyChange = 9, ChordChange = 1.6;

    /// <summary>Reads a score from its verticals.</summary>
    public static HarmonicReading Read(Score score, IReadOnlyList<Sonority> sonorities)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(sonorities);
        if (sonorities.Count == 0) return new HarmonicReading(new Key(new Tone(0), Mode.Major), []);
        var centre = score.Measures[0].Signature;
        var states = States(centre);
        var count = sonorities.Count;
        var back = new int[count][];
        var score0 = new double[states.Length];
        for (var t = 0; t < count; t++)
        {
            back[t] = new int[states.Length];
            var best = Enumerable.Range(0, states.Length).MaxBy(s => score0[s]);
            var bestOfKey = states.Select((s, i) => (s.Key, i)).GroupBy(p => p.Key).ToDictionary(g => g.Key, g => g.MaxBy(p => score0[p.i]).i);
            var next = new double[states.Length];
            var change = ChordChange * (2 - sonorities[t].MetricalWeight);
            for (var s = 0; s < states.Length; s++)
            {
                var (from, value) = (s, score0[s]);
                var inKey = bestOfKey[states[s].Key];
                if (score0[inKey] - change > value) (from, value) = (inKey, score0[inKey] - change);
                if (score0[best] - change - KeyChange > value) (from, value) = (best, score0[best] - change - KeyChange);
                back[t][s] = from;
                next[s] = value + Emission(sonorities[t], states[s]);
            }

            score0 = next;
        }

        var path = new int[count];
        path[^1] = Enumerable.Range(0, states.Length).MaxBy(s => score0[s]);
        for (var t = count - 1; t > 0; t--) path[t - 1] = back[t][path[t]];
        var chords = new List<ChordReading>();
        for (int t = 0, start = 0; t < count; t++)
        {
            if (t + 1 < count && path[t + 1] == path[start]) continue;
            var state = states[path[start]];
            var onset = sonorities[start].Onset;
            var silent = Enumerable.Range(start, t - start + 1).All(i => sonorities[i].Notes.Count == 0);
            chords.Add(new ChordReading(onset, sonorities[t].End - onset, state.Key, silent ? null : state.Numeral, 0.5, []));
            start = t + 1;
        }

        var home = chords.GroupBy(c => c.Key).MaxBy(g => g.Sum(c => c.Duration.ToDouble()) + (g.Contains(chords[^1]) ? 8 : 0))!.Key;
        return new HarmonicReading(home, chords);
    }

    private static double Emission(Sonority sonority, State state)
    {
        if (sonority.Notes.Count == 0) return 0;
        double inside = 0, total = 0;
        foreach (var note in sonority.Notes)
        {
            var weight = sonority.IsStruck(note) ? 1 : 0.7;
            total += weight;
            inside += state.Has[note.Pitch.Tone.PitchClass] ? weight : -weight;
            inside += state.Key.Contains(note.Pitch.Tone) ? 0.05 * weight : -0.3 * weight;
        }

        var bass = sonority.Bass!.Pitch.Tone.PitchClass == state.Bass ? 0.45 : 0;
        return (1.5 * sonority.Duration.ToDouble()) * ((inside / total) + bass + state.Prior);
    }

    private static State[] States(int signature)
    {
        string[] major = ["I", "I6", "I64", "ii", "ii6", "ii65", "ii7", "iii", "IV", "IV6", "IV64", "V", "V6", "V64", "V7", "V65", "V43", "V42",
            "vi", "vi6", "viio6", "viio", "viiø7", "V7/V", "V65/V", "V42/V", "V/V", "viio7/V", "V7/IV", "V65/IV", "V42/IV", "V7/vi", "V65/vi",
            "V/vi", "V65/ii", "V7/ii", "iv", "iv6", "bVI", "N6", "Ger65", "It6", "Fr43", "iiø65", "viio7", "i", "bIII", "bVII"];
        string[] minor = ["i", "i6", "i64", "iio6", "iiø65", "iiø7", "III", "iv", "iv6", "V", "V6", "V64", "V7", "V65", "V43", "V42", "VI", "VI6",
            "viio7", "viio65", "viio43", "viio42", "viio6", "VII", "v", "V7/V", "V65/V", "viio7/V", "V7/iv", "V65/iv", "V7/III", "V7/VI", "N6",
            "Ger65", "It6", "Fr43", "I", "IV", "ii"];
        var states = new List<State>();
        for (var tonic = signature - 4; tonic <= signature + 7; tonic++)
        {
            foreach (var mode in (Mode[])[Mode.Major, Mode.Minor])
            {
                var key = new Key(new Tone(Math.Clamp(tonic, -12, 15)), mode);
                var away = 0.02 * Math.Abs(key.Signature - signature);
                var list = mode == Mode.Major ? major : minor;
                for (var i = 0; i < list.Length; i++)
                {
                    var numeral = Numeral.Parse(list[i]);
                    var has = new bool[12];
                    foreach (var tone in numeral.Tones(key)) has[tone.PitchClass] = true;
                    states.Add(new State(key, numeral, has, numeral.Bass(key).PitchClass, (i > 22 ? -0.25 : 0) - away - (numeral.Quality.IsSeventh() ? 0.15 : 0)));
                }
            }
        }

        return [.. states];
    }

    private sealed record State(Key Key, Numeral Numeral, bool[] Has, int Bass, double Prior);
}
