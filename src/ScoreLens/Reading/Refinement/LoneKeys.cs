using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Reads one chord alone in another key in the key that holds before and after it: "one chord makes no modulation" (common practice).
/// Chords that are applied already, and those that the key around has no plain numeral for, stay.
/// </summary>
internal sealed class LoneKeys : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context) =>
        [.. chords.Select((_, i) => InKeyAround(chords, i))];

    private static ChordReading InKeyAround(IReadOnlyList<ChordReading> chords, int i)
    {
        var chord = chords[i];
        if (i == 0 || i + 1 == chords.Count || chord.Numeral is not { Kind: NumeralKind.Plain, IsApplied: false } numeral) return chord;
        var around = chords[i - 1].Key;
        if (around == chord.Key || chords[i + 1].Key != around) return chord;
        return NameInKey.Of(around, numeral.Root(chord.Key).NearestTo(around.Tonic), numeral.Quality, numeral.Inversion,
            numeral.Extension) is { } named
            ? chord with { Key = around, Numeral = named }
            : chord;
    }
}
