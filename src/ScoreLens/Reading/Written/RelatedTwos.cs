using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Names a minor or half-diminished seventh from outside the key that goes to an applied dominant a fourth above as the ii of that
/// dominant: "Cm7 F7 to Bb in F is the ii and the V of IV" (common practice: ii–V chains).
/// </summary>
internal sealed class RelatedTwos : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.ToArray();
        for (var i = 0; i + 1 < named.Length; i++)
        {
            var (chord, next) = (named[i], named[i + 1]);
            if (chord.Key != next.Key || chord.Numeral is not
                {
                    Kind: NumeralKind.Plain, Target: null, Quality: ChordQuality.MinorSeventh or ChordQuality.HalfDiminishedSeventh,
                } numeral
                || next.Numeral is not { Kind: NumeralKind.Plain, Degree: 5, Alteration: 0, Target: { } target } dominant
                || !dominant.Quality.HasMajorThird() || Diatonic.Contains(chord.Key, numeral)) continue;
            var root = target.In(chord.Key).Tonic + 2;
            if (!numeral.Root(chord.Key).IsEnharmonicWith(root)) continue;
            if (Numeral.For(chord.Key, root, numeral.Quality, numeral.Inversion, target, numeral.Extension) is { } two)
                named[i] = chord with { Numeral = two };
        }

        return named;
    }
}
