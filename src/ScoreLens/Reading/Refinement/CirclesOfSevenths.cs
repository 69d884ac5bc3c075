using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Names the seventh chord on the seventh degree of minor VII7, not V7/III, inside a circle of falling fifths in sevenths. "Where
/// iv7 falls to it and it falls to a III with a seventh of its own, it is one link of the chain of the key's own sevenths, not a
/// dominant that turns aside." Common practice, no source.
/// </summary>
internal sealed class CirclesOfSevenths : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        var marked = chords.ToArray();
        for (var i = 1; i + 1 < marked.Length; i++)
        {
            var key = marked[i].Key;
            if (!key.IsMinor || marked[i - 1].Key != key || marked[i + 1].Key != key) continue;
            if (marked[i].Numeral is not
                {
                    Kind: NumeralKind.Plain, Degree: 5, Alteration: 0, Quality: ChordQuality.DominantSeventh,
                    Target: { Degree: 3, Alteration: 0, Mode: Mode.Major },
                } seventh) continue;
            if (IsSeventhOn(4, ChordQuality.MinorSeventh, marked[i - 1].Numeral)
                && IsSeventhOn(3, ChordQuality.MajorSeventh, marked[i + 1].Numeral))
                marked[i] = marked[i] with { Numeral = new Numeral(7, seventh.Quality, seventh.Inversion) };
        }

        return marked;
    }

    private static bool IsSeventhOn(int degree, ChordQuality quality, Numeral? numeral) =>
        numeral is { Kind: NumeralKind.Plain, Alteration: 0, Target: null } && numeral.Degree == degree && numeral.Quality == quality;
}
