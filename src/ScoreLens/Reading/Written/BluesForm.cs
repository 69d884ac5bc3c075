using ScoreLens.Notation;
using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Reads a blues in the key of its first chord: "Bb7, Eb7 and F7 are I, IV and V of B flat, though each has a seventh" (common practice of
/// the twelve-bar blues). A chart is a blues where dominant sevenths on these three degrees make up most of it, or where its choruses of
/// twelve measures have I7 in the first, IV7 in the fifth, I or iii in the seventh and ii or V in the ninth or tenth, whatever stands
/// between (Levine, The Jazz Theory Book, on blues changes; from memory). What is heard as V7 of another key elsewhere is home here.
/// </summary>
internal sealed class BluesForm : IRefinement
{
    // Share of the time that the first chord has to take, and share of the three together.
    private const double LeastTonic = 0.3, LeastTogether = 0.7;

    private const int Chorus = 12;

    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        if (chords.FirstOrDefault(c => c.Written is not null) is not { Written: { } first } start
            || first.Quality() != ChordQuality.DominantSeventh) return chords;
        var key = new Key(first.Root, Mode.Major);
        var end = IsOfThreeDegrees(chords, first) ? chords[^1].End : EndOfChoruses(chords, start, context.Score);
        return [.. chords.Select(c => c.Key == key || c.Onset >= end ? c : c.NamedIn(key) ?? c with { Key = key, Numeral = null })];
    }

    private static bool IsOfThreeDegrees(IReadOnlyList<ChordReading> chords, WrittenChord first)
    {
        double Time(int above) => chords.Where(c => c.Written is { } w && w.Quality() == ChordQuality.DominantSeventh
            && Tone.Semitones(first.Root, w.Root) == above).Sum(c => c.Duration.ToDouble());
        var all = chords.Where(c => c.Written is not null).Sum(c => c.Duration.ToDouble());
        var (tonic, fourth, fifth) = (Time(0), Time(5), Time(7));
        return tonic >= LeastTonic * all && fourth > 0 && tonic >= fourth && tonic + fourth + fifth >= LeastTogether * all;
    }

    // Where the last chorus ends, or the score where less than a chorus follows; the start where there is none.
    private static Fraction EndOfChoruses(IReadOnlyList<ChordReading> chords, ChordReading start, Score score)
    {
        var measure = score.MeasureAt(start.Onset).Index;
        var tonic = start.Written!.Root;
        var first = measure;
        for (; measure + Chorus <= score.Measures.Count; measure += Chorus)
        {
            if (!Has(0, 0) || !Has(4, 5) || !(Has(8, 2) || Has(8, 7) || Has(9, 2) || Has(9, 7))) break;
            // The first chorus says what the form is; later ones may put other chords in place of these.
            if (measure == first && (!IsDominant(4) || !(Has(6, 0) || Has(6, 4)))) return start.Onset;
        }

        return measure == first ? start.Onset : measure + Chorus > score.Measures.Count ? score.End : score.Measures[measure].Start;

        WrittenChord? At(int place) => chords.LastOrDefault(c => c.Onset <= score.Measures[measure + place].Start)?.Written;
        bool Has(int place, int above) => At(place) is { } chord && Tone.Semitones(tonic, chord.Root) == above;
        bool IsDominant(int place) => At(place)?.Quality() == ChordQuality.DominantSeventh;
    }
}
