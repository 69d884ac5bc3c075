using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Names a diminished seventh by where it goes: one that the score writes from another of its tones, and that goes where that tone leads,
/// is that one. "D F Ab Cb to Eb is no viio65 of C minor" (common practice).
/// </summary>
internal sealed class DiminishedContinuations : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.ToArray();
        for (var i = 0; i < named.Length; i++)
        {
            var next = Array.Find(named[(i + 1)..], c => c.Numeral is not null);
            if (next is not null && Leading(named[i], next, context.Sonorities) is { } numeral) named[i] =
                named[i] with { Numeral = numeral };
        }

        return named;
    }

    private static Numeral? Leading(ChordReading chord, ChordReading next, IReadOnlyList<Sonority> sonorities)
    {
        if (chord.Numeral is not { Kind: NumeralKind.Plain, Quality: ChordQuality.DiminishedSeventh } numeral) return null;
        var times = TonesInTime.Of(sonorities, chord.Onset, chord.End);
        var own = numeral.Tones(chord.Key);
        Tone[] written = [.. own.Select(t => Written(times, t) ?? t)];
        if (own.Any(t => Written(times, t) is null)) return null;
        Tone[] tones = [.. written.OrderByDescending(t => t)];
        var root = tones[0];
        if (tones[0] - tones[^1] != 9 || root.IsEnharmonicWith(own[0]) || !StandsOn(next, root + -5)
            || StandsOn(next, own[0] + -5)) return null;
        return NameInKey.Of(chord.Key, root.NearestTo(chord.Key.Tonic + 1), ChordQuality.DiminishedSeventh,
            Array.IndexOf(tones, written[numeral.Inversion]));
    }

    // How the score writes a tone; null where it does not sound.
    private static Tone? Written(IReadOnlyDictionary<Tone, double> times, Tone tone) =>
        times.ContainsKey(tone) ? tone : times.Where(p => p.Key.IsEnharmonicWith(tone)).OrderByDescending(p => p.Value)
            .Select(p => (Tone?)p.Key).FirstOrDefault();

    // Its root, or the bass of a cadential six-four.
    private static bool StandsOn(ChordReading chord, Tone tone)
    {
        var numeral = chord.Numeral!;
        if (numeral.Kind == NumeralKind.CadentialSixFour) return numeral.Bass(chord.Key).IsEnharmonicWith(tone);
        return numeral.Root(chord.Key).IsEnharmonicWith(tone) && !numeral.Quality.IsAugmentedSixth()
            && numeral.Quality is not (ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh);
    }
}
