using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;

namespace ScoreLens.Keys;

/// <summary>
/// Takes every key back that holds for less than a usual phrase of the cue: "a phrase has one key; what it touches on the way is colour"
/// (common practice). A key that holds for half a phrase and closes one stays. The shortest key goes first, into the longer of its two
/// neighbours, and counts with it from then on. The key of the cue is never taken back.
/// </summary>
internal static class PhraseKeys
{
    public static IReadOnlyList<ChordReading> TakeBack(IReadOnlyList<ChordReading> chords, KeyContext context)
    {
        var folded = chords.ToArray();
        while (true)
        {
            var stays = KeyStay.Of(folded);
            var taken = stays.Index().Where(s => !Holds(s.Item, folded, context)).OrderBy(s => s.Item.Duration).ThenBy(s => s.Index)
                .Any(s => TryTakeBack(folded, stays, s.Index));
            if (!taken) return folded;
        }
    }

    private static bool Holds(KeyStay stay, ChordReading[] chords, KeyContext context)
    {
        var share = stay.Duration.ToDouble() / Math.Max(context.UsualPhrase, 1);
        return stay.Key == context.Home || share >= context.Settings.PhraseOfKey
            || (share >= context.Settings.PhraseOfClosingKey && context.Closes(stay.Key, chords[stay.Start].Onset,
            chords[stay.End - 1].End));
    }

    private static bool TryTakeBack(ChordReading[] chords, List<KeyStay> stays, int s)
    {
        var stay = stays[s];
        KeyStay[] neighbours = [.. s > 0 ? [stays[s - 1]] : Array.Empty<KeyStay>(), .. s + 1 < stays.Count ? [stays[s + 1]]
            : Array.Empty<KeyStay>()];
        foreach (var neighbour in neighbours.OrderByDescending(n => n.Duration))
        {
            var around = neighbour.Key;
            var target = KeyReturn.Target(around, stay.Key);
            var rewritten = Enumerable.Range(stay.Start, stay.End - stay.Start).Select(i =>
                (target is { } degree ? KeyReturn.Applied(chords[i], around, degree) : null) ?? KeyReturn.ByShape(chords[i], around))
                .ToArray();
            if (rewritten.Any(c => c is null)) continue;
            rewritten.CopyTo(chords, stay.Start);
            return true;
        }

        return false;
    }
}
