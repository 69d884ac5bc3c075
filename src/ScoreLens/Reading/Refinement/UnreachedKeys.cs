using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Reads a few plain chords in another key, with the same key before and after, as chords of the key around them where the other key's
/// dominant never sounds: "a key is reached through its dominant; without one its chords are borrowed" (common practice). So I iv bVII I
/// stays in its key. The relative key has no chords to borrow.
/// </summary>
internal sealed class UnreachedKeys : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var folded = chords.ToArray();
        var stays = KeyStay.Of(chords);
        for (var s = 1; s + 1 < stays.Count; s++)
        {
            var (key, start, end, duration) = stays[s];
            var around = stays[s - 1].Key;
            if (around != stays[s + 1].Key || key.Signature == around.Signature || end - start > context.Settings.MostBorrowedChords
                || duration > context.Settings.LongestShortStay) continue;
            var rewritten = chords.Skip(start).Take(end - start).Select(c => Rewrite(c, around)).ToArray();
            if (rewritten.Any(c => c is null)) continue;
            for (var i = start; i < end; i++) folded[i] = rewritten[i - start]!;
        }

        return folded;
    }

    private static ChordReading? Rewrite(ChordReading chord, Key around) =>
        chord.Numeral is { Kind: NumeralKind.Plain, Target: null } numeral && !IsDominant(numeral) ? chord.NamedIn(around) : null;

    private static bool IsDominant(Numeral numeral) =>
        (numeral is { Degree: 5, Alteration: 0 } && numeral.Quality.HasMajorThird())
            || numeral is
            {
                Degree: 7,
                Quality: ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh,
            };
}
