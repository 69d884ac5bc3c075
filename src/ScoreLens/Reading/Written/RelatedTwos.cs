using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Names a minor or half-diminished seventh from outside the key that goes to an applied dominant a fourth above as the ii of that
/// dominant: "Cm7 F7 to Bb in F is the ii and the V of IV" (common practice: ii–V chains).
/// </summary>
internal sealed class RelatedTwos : IRefinement
{
    // A half-diminished seventh that may be vii of one key is ii of the dominant that it goes to.
    private const int LeadingTone = 7;

    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var named = chords.ToArray();
        for (var i = 0; i + 1 < named.Length; i++)
        {
            var (chord, next) = (named[i], named[i + 1]);
            if (chord.Key != next.Key || chord.Numeral is not
                {
                    Kind: NumeralKind.Plain, Quality: ChordQuality.MinorSeventh or ChordQuality.HalfDiminishedSeventh,
                } numeral
                || (numeral.IsApplied && numeral.Degree != LeadingTone)
                || Target(named, i + 1) is not { } target || Diatonic.Contains(chord.Key, numeral)) continue;
            var root = target.In(chord.Key).Tonic + 2;
            if (!numeral.Root(chord.Key).IsEnharmonicWith(root)) continue;
            if (Numeral.For(chord.Key, root, numeral.Quality, numeral.Inversion, target, numeral.Extension) is { } two)
                named[i] = chord with { Numeral = two };
        }

        return named;
    }

    // What the dominant at a place is applied to; I7 of a blues leads to IV where IV follows.
    private static AppliedTarget? Target(ChordReading[] chords, int at)
    {
        if (chords[at].Numeral is not { Kind: NumeralKind.Plain, Alteration: 0 } numeral || !numeral.Quality.HasMajorThird()) return null;
        if (numeral.Degree == 5) return numeral.Target;
        var isBlues = numeral is { Degree: 1, IsApplied: false, Quality: ChordQuality.DominantSeventh } && at + 1 < chords.Length
            && chords[at + 1] is { Numeral: { Kind: NumeralKind.Plain, Degree: 4, Alteration: 0, IsApplied: false } four } next
            && next.Key == chords[at].Key && four.Quality.HasMajorThird();
        return isBlues ? new AppliedTarget(0, 4, Mode.Major, null) : null;
    }
}
