using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Reads the end of a piece in its own key, not in that of its subdominant. "What begins and ends on the tonic triad of its signature ends
/// on the tonic, and not on a dominant: a flat seventh degree before the end is borrowed" (common practice). Only where the chords since
/// the key was left are plain triads that never fall from that last chord to the subdominant as a dominant does.
/// </summary>
internal sealed class ClosingTonics : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.Where(c => c.Numeral is not null).ToArray();
        if (named.Length < 2 || context.Score.Measures.Count == 0) return chords;
        var home = new Key(new Tone(context.Score.Measures[0].Signature), Mode.Major);
        var other = named[^1].Key;
        if (other != new Key(home.Tonic + -1, Mode.Major) || !IsTonic(named[0], home) || !IsTonic(named[^1], home)) return chords;

        var start = chords.Count;
        while (start > 0 && chords[start - 1].Key == other) start--;
        if (start > 0 && chords[start - 1].Key != home) return chords;
        var rewritten = chords.Skip(start).Select(c => Rewrite(c, home)).ToArray();
        if (rewritten.Any(c => c is null)) return chords;
        // Within the passage, not from its first chord: from there the way to the subdominant is every piece's.
        for (var i = Math.Max(start, 1); i + 1 < chords.Count; i++)
            if (IsTonic(chords[i], home) && chords[i + 1].Numeral is { Degree: 1, Quality: ChordQuality.Major }) return chords;
        return [.. chords.Take(start), .. rewritten!];
    }

    private static bool IsTonic(ChordReading chord, Key home) =>
        chord.Numeral is { Kind: NumeralKind.Plain, Quality: ChordQuality.Major, Inversion: 0 } numeral
            && numeral.Root(chord.Key) == home.Tonic;

    private static ChordReading? Rewrite(ChordReading chord, Key home)
    {
        if (chord.Numeral is not { } numeral) return chord with { Key = home };
        if (numeral is not { Kind: NumeralKind.Plain, Target: null } || numeral.Quality.IsSeventh()) return null;
        return chord.NamedIn(home);
    }
}
