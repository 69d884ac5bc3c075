using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>A place at which a cadence arrives.</summary>
/// <param name="Onset">Where the last chord of the cadence begins.</param>
/// <param name="End">Where the chords of its root end.</param>
/// <param name="Kind">Which cadence.</param>
/// <param name="Strength">How clearly the formula is spelled out, 0..1.</param>
internal sealed record Arrival(Fraction Onset, Fraction End, Cadence Kind, double Strength);

/// <summary>
/// Finds cadential arrivals in a reading. The kinds are the handbooks': authentic where a dominant goes to the tonic, perfect
/// where both are in root position and the melody ends on the first degree; half where the goal is a root-position triad on
/// the fifth degree; deceptive where the dominant goes to the sixth; plagal where the fourth degree goes to the tonic.
/// </summary>
internal static class Cadences
{
    /// <summary>Every arrival of a reading, in order.</summary>
    public static IReadOnlyList<Arrival> Find(HarmonicReading reading, IReadOnlyList<Sonority> sonorities)
    {
        var chords = reading.Chords.Where(c => c.Numeral is not null).ToList();
        var arrivals = new List<Arrival>();
        for (var i = 1; i < chords.Count; i++)
            if (chords[i].Onset - chords[i - 1].End <= 2 && At(chords, i, sonorities) is { } arrival) arrivals.Add(arrival);
        return arrivals;
    }

    private static Arrival? At(List<ChordReading> chords, int i, IReadOnlyList<Sonority> sonorities)
    {
        var (before, chord) = (chords[i - 1], chords[i]);
        var numeral = chord.Numeral!;
        if (numeral.IsApplied || numeral.Kind != NumeralKind.Plain || numeral.Alteration != 0) return null;
        if (Root(before) == Root(chord) && !IsCadentialSixFour(before)) return null;
        var end = chord.End;
        for (var j = i + 1; j < chords.Count && chords[j].Onset == end && Root(chords[j]) == Root(chord)
            && !IsCadentialSixFour(chords[j]); j++) end = chords[j].End;
        var rooted = numeral.Inversion == 0;
        var dominant = IsDominantOf(before, chord.Key);
        var firm = dominant && rooted && Root(before) - chord.Key.Tonic == 1 && before.Numeral!.Inversion == 0;
        switch (numeral.Degree)
        {
            case 1 when dominant:
                var perfect = firm && MelodyTone(sonorities, chord, end) == chord.Key.Tonic;
                var stands = rooted && before.Numeral!.Inversion == 0 && Root(before) - chord.Key.Tonic != 5;
                var strength = stands ? (perfect ? 0.6 : 0.4) + (IsPrepared(chords, i - 1, chord.Key) ? 0.4 : 0) : rooted ? 0.25 : 0.1;
                return new Arrival(chord.Onset, end, perfect ? Cadence.PerfectAuthentic : Cadence.ImperfectAuthentic, strength);
            case 1 when rooted && before.Numeral!.Inversion == 0 && Root(before) - chord.Key.Tonic == -1 && !before.Numeral.IsApplied:
                // After an authentic arrival the fourth degree confirms it.
                var confirms = i >= 3 && Root(chords[i - 2]) == Root(chord)
                    && At(chords, i - 2, sonorities) is { Kind: Cadence.PerfectAuthentic or Cadence.ImperfectAuthentic };
                return new Arrival(chord.Onset, end, Cadence.Plagal, confirms ? 0.6 : 0.15);
            case 5 when rooted && numeral.Quality == ChordQuality.Major:
                return new Arrival(chord.Onset, end, Cadence.Half, Prepares(before, chord.Key) ? 0.6 : 0.3);
            case 6 when firm:
                return new Arrival(chord.Onset, end, Cadence.Deceptive, IsPrepared(chords, i - 1, chord.Key) ? 0.4 : 0.15);
            default:
                return null;
        }
    }

    // By root and quality rather than by numeral, so that the pivot of a modulation (V7/V, then I of the new key) counts too.
    private static bool IsDominantOf(ChordReading chord, Key key)
    {
        var numeral = chord.Numeral!;
        if (numeral.Kind != NumeralKind.Plain) return false;
        return (Root(chord) - key.Tonic) switch
        {
            1 => numeral.Quality.HasMajorThird() && numeral.Quality != ChordQuality.MajorSeventh,
            // The tritone substitute closes as the dominant does that it stands for.
            -5 => numeral.Quality == ChordQuality.DominantSeventh,
            5 => numeral.Quality is ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh,
            _ => false,
        };
    }

    // The formula begins with what prepares the dominant.
    private static bool IsPrepared(List<ChordReading> chords, int dominant, Key key)
    {
        var first = dominant;
        while (first > 0 && Root(chords[first - 1]) == Root(chords[dominant]))
        {
            first--;
            if (IsCadentialSixFour(chords[first])) return true;
        }

        return first > 0 && Prepares(chords[first - 1], key);
    }

    private static bool Prepares(ChordReading chord, Key key)
    {
        var numeral = chord.Numeral!;
        if (numeral.Kind == NumeralKind.AugmentedSixth || IsCadentialSixFour(chord)) return true;
        if (numeral.IsApplied) return numeral.Target is { Degree: 5, Of: null } && chord.Key.Tonic == key.Tonic;
        return (Root(chord) - key.Tonic) is 2 or -1 or -5 || (Root(chord) == key.Tonic && numeral.Inversion == 2);
    }

    private static bool IsCadentialSixFour(ChordReading chord) => chord.Numeral!.Kind == NumeralKind.CadentialSixFour;

    // The melody may reach its last note late (a suspension, an appoggiatura): the first chord tone on top counts.
    private static Tone? MelodyTone(IReadOnlyList<Sonority> sonorities, ChordReading chord, Fraction end)
    {
        var tones = chord.Numeral!.Tones(chord.Key);
        for (var i = TonesInTime.First(sonorities, chord.Onset); i < sonorities.Count && sonorities[i].Onset < end; i++)
            if (sonorities[i].Top is { } top && tones.Contains(top.Pitch.Tone)) return top.Pitch.Tone;
        return null;
    }

    // A cadential six-four stands over the dominant's root and belongs to it.
    private static Tone Root(ChordReading chord) => IsCadentialSixFour(chord) ? chord.Numeral!.Bass(chord.Key)
        : chord.Numeral!.Root(chord.Key);
}
