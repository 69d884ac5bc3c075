using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Keys;

/// <summary>
/// Takes a short key back into the key that holds before and after it, as applied chords: "a degree that is touched and left at once is
/// tonicised, not modulated to" (common practice). In the corpus's experts' analyses such short keys hold under one quarter note in a
/// hundred. In a long movement a longer stay counts as short: the open works' experts leave a key and come back to it once to four times a
/// movement, whether it has 50 quarter notes or 1,200. A key in which a phrase closes is confirmed and stays.
/// </summary>
internal static class Tonicisations
{
    public static IReadOnlyList<ChordReading> TakeBack(IReadOnlyList<ChordReading> chords, KeyContext context)
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
                    || context.Closes(key, chords[start].Onset, chords[end - 1].End)
                    || KeyReturn.Target(around, key) is not { } target) continue;
            var rewritten = Enumerable.Range(start, end - start).Select(i => KeyReturn.Applied(chords[i], around, target)).ToArray();
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
}
