using ScoreLens.Reading.Refinement;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Written;

/// <summary>
/// Reads a chart of dominant sevenths on three degrees as a blues in the key of the first chord: "Bb7, Eb7 and F7 are I, IV and V of B flat,
/// though each has a seventh" (common practice of the twelve-bar blues). What is heard as V7 of another key elsewhere is home here.
/// </summary>
internal sealed class BluesForm : IRefinement
{
    // Share of the time that the first chord has to take, and share of the three together.
    private const double LeastTonic = 0.3, LeastTogether = 0.7;

    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context)
    {
        if (chords.FirstOrDefault(c => c.Written is not null) is not { Written: { } first } || first.Quality() != ChordQuality.DominantSeventh) return chords;
        double Time(int above) => chords.Where(c => c.Written is { } w && w.Quality() == ChordQuality.DominantSeventh
            && Tone.Semitones(first.Root, w.Root) == above).Sum(c => c.Duration.ToDouble());
        var all = chords.Where(c => c.Written is not null).Sum(c => c.Duration.ToDouble());
        var (tonic, fourth, fifth) = (Time(0), Time(5), Time(7));
        if (tonic < LeastTonic * all || fourth <= 0 || tonic < fourth || tonic + fourth + fifth < LeastTogether * all) return chords;
        var key = new Key(first.Root, Mode.Major);
        return [.. chords.Select(c => c.Key == key ? c : c.NamedIn(key) ?? c with { Key = key, Numeral = null })];
    }
}
