using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Reads a few plain chords in another key, with the same key before and after, as chords of the key around them where the other key's
/// dominant never sounds: "a key is reached through its dominant; without one its chords are borrowed" (common practice). So I iv bVII I
/// stays in its key. The relative key has no chords to borrow.
/// </summary>
internal static class UnreachedKeys
{
    private const int MostChords = 3;
    private static readonly Fraction Longest = 16;

    public static IReadOnlyList<ChordReading> Fold(IReadOnlyList<ChordReading> chords)
    {
        var folded = chords.ToArray();
        for (int start = 0, end; start < folded.Length; start = end)
        {
            var key = chords[start].Key;
            end = start + 1;
            while (end < folded.Length && chords[end].Key == key) end++;
            if (start == 0 || end == folded.Length || end - start > MostChords || chords[end - 1].End - chords[start].Onset > Longest) continue;
            var around = chords[start - 1].Key;
            if (chords[end].Key != around || key.Signature == around.Signature) continue;
            var rewritten = chords.Skip(start).Take(end - start).Select(c => Rewrite(c, around)).ToArray();
            if (rewritten.Any(c => c is null)) continue;
            for (var i = start; i < end; i++) folded[i] = rewritten[i - start]!;
        }

        return folded;
    }

    private static ChordReading? Rewrite(ChordReading chord, Key around)
    {
        if (chord.Numeral is not { Kind: NumeralKind.Plain, Target: null } numeral || IsDominant(numeral)) return null;
        return Numeral.For(around, numeral.Root(chord.Key), numeral.Quality, numeral.Inversion, null, numeral.Extension) is { } written
            ? chord with { Key = around, Numeral = written }
            : null;
    }

    private static bool IsDominant(Numeral numeral) =>
        (numeral is { Degree: 5, Alteration: 0 } && numeral.Quality.HasMajorThird()) || numeral is { Degree: 7, Quality: ChordQuality.Diminished or ChordQuality.DiminishedSeventh or ChordQuality.HalfDiminishedSeventh };
}
