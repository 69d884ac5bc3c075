using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Writes the tonic's six-four as a cadential six-four where it delays a dominant: V follows over the same bass, on a place of
/// the metre that is no stronger. "The six-four leans on the dominant: its sixth and fourth fall to fifth and third."
/// Common practice, no source.
/// </summary>
internal sealed class CadentialSixFours : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var marked = chords.ToArray();
        for (var i = 0; i + 1 < marked.Length; i++)
        {
            if (marked[i].Numeral is not { Kind: NumeralKind.Plain, Degree: 1, Alteration: 0, Inversion: 2, Target: null } sixFour
                || sixFour.Quality is not (ChordQuality.Major or ChordQuality.Minor)) continue;
            var next = marked[i + 1];
            if (next.Key != marked[i].Key || next.Numeral is not
                {
                    Kind: NumeralKind.Plain, Degree: 5, Alteration: 0, Inversion: 0,
                    Target: null
                } dominant
                || !dominant.Quality.HasMajorThird()) continue;
            if (Weight(context.Score, next.Onset) > Weight(context.Score, marked[i].Onset)) continue;
            if ((sixFour.Quality == ChordQuality.Minor) != marked[i].Key.IsMinor) continue;
            marked[i] = marked[i] with { Numeral = Numeral.CadentialSixFour(marked[i].Key.Mode) };
        }

        return marked;
    }

    private static double Weight(Score score, Fraction onset) => SonorityFinder.Weight(score.MeasureAt(onset), onset);
}
