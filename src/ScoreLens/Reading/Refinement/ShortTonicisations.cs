using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Reads a few chords in another key, with the same key before and after, as applied chords of the key around them:
/// "a degree that is touched and left at once is tonicised, not modulated to" (common practice). In the corpus's experts'
/// analyses such short keys hold under one quarter note in a hundred. In a long movement a longer stay counts as short: the open
/// works' experts leave a key and come back to it once to four times a movement, whether it has 50 quarter notes or 1,200.
/// </summary>
internal sealed class ShortTonicisations : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var settings = context.Settings;
        var folded = chords.ToArray();
        var stays = KeyStay.Of(chords);
        var longStay = LongStay(chords, settings);
        for (var s = 1; s + 1 < stays.Count; s++)
        {
            var (key, start, end, duration) = stays[s];
            var around = stays[s - 1].Key;
            if (around != stays[s + 1].Key || stays[s - 1].Named(chords) < settings.MostTonicisedChords) continue;
            var count = stays[s].Named(chords);
            if (count > settings.MostTonicisedChordsInLongMovements
                || duration > (count > settings.MostTonicisedChords ? longStay : settings.LongestShortStay)
                    || Target(around, key) is not { } target) continue;
            var rewritten = Enumerable.Range(start, end - start).Select(i => Rewrite(chords[i], around, target)).ToArray();
            if (rewritten.Any(c => c is null)) continue;
            for (var i = start; i < end; i++) folded[i] = rewritten[i - start]!;
        }

        return folded;
    }

    // Whole quarter notes that more chords than usual may hold another key in a movement of this length.
    private static Fraction LongStay(IReadOnlyList<ChordReading> chords, ReadingSettings settings)
    {
        var length = chords.Where(c => c.Numeral is not null).Sum(c => c.Duration.ToDouble());
        return (int)(settings.TonicisedShareOfMovement * Math.Clamp(length - settings.ShortMovement, 0,
            settings.LongestLength - settings.ShortMovement));
    }

    // The degree of the key around that the short key stands on, in the mode of that degree's own triad.
    private static AppliedTarget? Target(Key around, Key key)
    {
        var quality = key.IsMinor ? ChordQuality.Minor : ChordQuality.Major;
        if (key.Tonic == around.Tonic || !Triad(key).All(around.Contains)) return null;
        return DegreeFifths.TryFind(key.Tonic - around.Tonic, around.Mode, quality, out var degree, out var alteration)
            ? new AppliedTarget(alteration, degree, key.Mode)
            : null;
    }

    private static IEnumerable<Tone> Triad(Key key) => [key.Tonic, key.Tonic + 1, key.Tonic + (key.IsMinor ? -3 : 4)];

    private static ChordReading? Rewrite(ChordReading chord, Key around, AppliedTarget target)
    {
        if (chord.Numeral is not { } numeral) return chord with { Key = around };
        if (numeral.Target is not null || numeral.Kind == NumeralKind.CommonToneDiminished) return null;
        var leads = numeral.Kind != NumeralKind.Plain || (numeral.Degree is 5 or 7 && !numeral.Tones(chord.Key).All(around.Contains));
        if (!leads) return chord.NamedIn(around);
        var applied = numeral.Kind switch
        {
            NumeralKind.AugmentedSixth => Numeral.AugmentedSixth(numeral.Quality, numeral.Inversion, target),
            NumeralKind.CadentialSixFour => Numeral.CadentialSixFour(target.Mode, target),
            _ => new Numeral(numeral.Degree, numeral.Quality, numeral.Inversion, numeral.Alteration, target, numeral.Extension),
        };
        return chord with { Key = around, Numeral = applied };
    }
}
