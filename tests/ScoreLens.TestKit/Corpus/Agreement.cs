using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.TestKit.Corpus;

/// <summary>
/// How far a reading agrees with an expert's, as the corpus's <c>evaluate.py</c> defines it: both are laid on the score's timeline and
/// compared over every stretch between two changes, each weighing as much as it lasts. Times are quarter notes.
/// </summary>
internal sealed class Agreement
{
    /// <summary>The names of the figures, as the script calls them.</summary>
    public static readonly IReadOnlyList<string> Fields = ["key", "root", "quality", "inversion", "degree", "numeral", "chromatic"];

    private readonly Fraction[] _agreed = new Fraction[Fields.Count];

    /// <summary>Works that were compared.</summary>
    public int Works { get; private set; }

    /// <summary>The time for which the expert names a chord.</summary>
    public Fraction Quarters { get; private set; }

    /// <summary>The share of the time, 0 to 1, for which a figure agrees.</summary>
    public double this[string field] =>
        Quarters.Sign == 0 ? 0 : (_agreed[Fields.ToList().IndexOf(field)] / Quarters).ToDouble();

    /// <summary>Compares a work's analysis with the expert's.</summary>
    public void Add(CueAnalysis analysis, HarmonicReading expert)
    {
        Works++;
        var ours = analysis.Chords.OrderBy(c => c.Reading.Onset).ToArray();
        var theirs = expert.Chords.OrderBy(c => c.Onset).ToArray();
        var end = theirs[^1].End;
        var cuts = ours.Select(c => c.Reading.Onset).Concat(theirs.Select(c => c.Onset)).Append(end).Distinct().Order().ToArray();
        int found = -1, stated = -1;
        for (var i = 0; i + 1 < cuts.Length; i++)
        {
            while (found + 1 < ours.Length && ours[found + 1].Reading.Onset <= cuts[i]) found++;
            while (stated + 1 < theirs.Length && theirs[stated + 1].Onset <= cuts[i]) stated++;
            if (stated < 0 || theirs[stated].Numeral is null) continue;
            var time = cuts[i + 1] - cuts[i];
            Quarters += time;
            if (found < 0 || ours[found].Reading.Numeral is null) continue;
            var same = Compare(ours[found].Reading, ours[found].Device is not null, theirs[stated]);
            for (var field = 0; field < same.Length; field++)
                if (same[field]) _agreed[field] += time;
        }
    }

    /// <summary>Adds what another has counted.</summary>
    public void Add(Agreement other)
    {
        Works += other.Works;
        Quarters += other.Quarters;
        for (var field = 0; field < _agreed.Length; field++) _agreed[field] += other._agreed[field];
    }

    private static bool[] Compare(ChordReading ours, bool isChromatic, ChordReading theirs)
    {
        var (a, b) = (ours.Numeral!, theirs.Numeral!);
        var key = ours.Key == theirs.Key;
        var quality = a.Quality == b.Quality;
        var inversion = a.Inversion == b.Inversion;
        var degree = Degree(a, ours.Key.Mode) == Degree(b, theirs.Key.Mode);
        return
        [
            key,
            a.Root(ours.Key).PitchClass == b.Root(theirs.Key).PitchClass,
            quality,
            inversion,
            degree,
            key && quality && inversion && degree,
            isChromatic == StatedDevice.Of(theirs.Key, b).Length > 0,
        ];
    }

    // An augmented sixth counts by its name, everything else by its root above the tonic.
    private static (int Root, int? Applied) Degree(Numeral numeral, Mode mode)
    {
        var root = numeral.Kind == NumeralKind.AugmentedSixth ? 100 + (int)numeral.Quality : numeral.RootFifths(mode);
        return (root, numeral.Target?.FifthsAbove(mode));
    }
}
