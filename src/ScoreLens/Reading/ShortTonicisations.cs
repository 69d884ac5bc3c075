using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Reads a few chords in another key, with the same key before and after, as applied chords of the key around them:
/// "a degree that is touched and left at once is tonicised, not modulated to" (common practice). In the corpus's experts'
/// analyses such short keys hold under one quarter note in a hundred. In a long movement a longer stay counts as short: the open
/// works' experts leave a key and come back to it once to four times a movement, whether it has 50 quarter notes or 1,200.
/// </summary>
internal static class ShortTonicisations
{
    private const int MostChords = 2;
    private const int MostInLongMovements = 16;

    // Quarter notes; chosen on the validation works, of which the songs and chorales are as right with it as without.
    private const double ShareOfMovement = 0.04;
    private const double ShortMovement = 80;
    private const double LongestMovement = 1200;
    private static readonly Fraction Longest = 16;

    public static IReadOnlyList<ChordReading> Fold(IReadOnlyList<ChordReading> chords)
    {
        var folded = chords.ToArray();
        var stays = KeyStay.Of(chords);
        var longStay = LongStay(chords);
        for (var s = 1; s + 1 < stays.Count; s++)
        {
            var (key, start, end, duration) = stays[s];
            var around = stays[s - 1].Key;
            if (around != stays[s + 1].Key || stays[s - 1].Named(chords) < MostChords) continue;
            var count = stays[s].Named(chords);
            if (count > MostInLongMovements || duration > (count > MostChords ? longStay : Longest) || Target(around, key) is not { } target) continue;
            var rewritten = Enumerable.Range(start, end - start).Select(i => Rewrite(chords[i], around, target)).ToArray();
            if (rewritten.Any(c => c is null)) continue;
            for (var i = start; i < end; i++) folded[i] = rewritten[i - start]!;
        }

        return folded;
    }

    // Whole quarter notes that more chords than usual may hold another key in a movement of this length.
    private static Fraction LongStay(IReadOnlyList<ChordReading> chords)
    {
        var length = chords.Where(c => c.Numeral is not null).Sum(c => c.Duration.ToDouble());
        return (int)(ShareOfMovement * Math.Clamp(length - ShortMovement, 0, LongestMovement - ShortMovement));
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
