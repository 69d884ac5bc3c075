using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>Names the sevenths of a blues on its first and fourth degree I7 and IV7: "the tonic of a blues is no dominant of IV" (common
/// practice).</summary>
internal sealed class BluesSevenths : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var keys = BluesKeys.Of(chords);
        return keys.Count == 0 ? chords : [.. chords.Select(c => keys.Contains(c.Key) ? Plain(c) : c)];
    }

    private static ChordReading Plain(ChordReading chord) =>
        chord.Numeral is { IsApplied: true } numeral && numeral.Root(chord.Key) is var root
            && BluesKeys.IsOne(chord.Key, root, numeral.Quality)
            && Numeral.For(chord.Key, root.NearestTo(chord.Key.Tonic), numeral.Quality, numeral.Inversion, null,
            numeral.Extension) is { } plain
            ? chord with { Numeral = plain }
            : chord;
}
