using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Names a chord far from the tonic on the line of fifths by the degree that is meant: "a raised fifth degree is a lowered sixth that was
/// written without its double flat" (common practice).
/// </summary>
internal sealed class NearSpellings : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context) =>
        [.. chords.Select(c => Near(c, context.Settings.FarthestRoot))];

    private static ChordReading Near(ChordReading chord, int farthest)
    {
        if (chord.Numeral is not { Kind: NumeralKind.Plain, Target: null } numeral) return chord;
        var root = numeral.Root(chord.Key);
        if (Math.Abs(root - chord.Key.Tonic) <= farthest) return chord;
        return Numeral.For(chord.Key, root.NearestTo(chord.Key.Tonic), numeral.Quality, numeral.Inversion, null,
            numeral.Extension) is { } near
            && near.Tones(chord.Key).All(t => t.Fifths is >= Tone.MinFifths and <= Tone.MaxFifths)
            ? chord with { Numeral = near }
            : chord;
    }
}
