using ScoreLens.Devices;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.TestKit.Corpus;

/// <summary>
/// How far a reading agrees with an expert's, as the corpus's <c>evaluate.py</c> defines it: both are laid on the score's timeline and
/// compared over every stretch between two changes, each weighing as much as it lasts. Times are quarter notes.
/// </summary>
internal sealed class Agreement
{
    /// <summary>The names of the figures, as the script calls them.</summary>
    public static readonly IReadOnlyList<string> Fields = ["key", "root", "quality", "inversion", "degree", "numeral", "chromatic"];

    /// <summary>How many equal steps of stated confidence are told apart.</summary>
    public const int Bins = 10;

    /// <summary>The names of the kinds of errors; a stretch of time is right or has one kind.</summary>
    public static readonly IReadOnlyList<string> ErrorKinds =
        ["key wrong, root right", "root wrong, key right", "key and root wrong", "only inversion wrong", "only quality wrong", "other"];

    private readonly Fraction[] _agreed = new Fraction[Fields.Count];
    private readonly Fraction[] _errors = new Fraction[ErrorKinds.Count];
    private readonly double[] _stated = new double[Bins], _right = new double[Bins], _time = new double[Bins];
    private readonly List<string> _dropped = [];
    private readonly List<Disagreement> _disagreements = [];
    private double _signedShares;

    /// <summary>Works that were compared.</summary>
    public int Works { get; private set; }

    /// <summary>The time for which the expert names a chord.</summary>
    public Fraction Quarters { get; private set; }

    /// <summary>The share of the time, 0 to 1, for which a figure agrees.</summary>
    public double this[string field] =>
        Quarters.Sign == 0 ? 0 : (_agreed[Fields.ToList().IndexOf(field)] / Quarters).ToDouble();

    /// <summary>The expert's keys, counted anew at every change; of all works together.</summary>
    public int KeysStated { get; private set; }

    /// <summary>The keys of the analyses, counted in the same way.</summary>
    public int KeysFound { get; private set; }

    /// <summary>
    /// How much more of the time the analyses hear outside the key than the experts, in points, in the mean work; below zero, less.
    /// </summary>
    public double SharePoints => Works == 0 ? 0 : 100 * _signedShares / Works;

    /// <summary>The share of the time, 0 to 1, that has a kind of error.</summary>
    public double Errors(string kind) => Quarters.Sign == 0 ? 0 : (_errors[ErrorKinds.ToList().IndexOf(kind)] / Quarters).ToDouble();

    /// <summary>
    /// Chords that are read as the expert reads them and in which he has a device, but which are none here, because the notes do not prove
    /// it: place, key and numeral, and what the row says.
    /// </summary>
    public IReadOnlyList<string> Dropped => _dropped;

    /// <summary>The stretches that are read otherwise than the expert reads them, in the order of the works and of time.</summary>
    public IReadOnlyList<Disagreement> Disagreements => _disagreements;

    /// <summary>
    /// A step of stated confidence: the share of the time, 0 to 1, that falls into it, and of that time the mean of what is stated and the
    /// share of right numerals.
    /// </summary>
    public (double Share, double Stated, double Right) Reliability(int bin) => _time[bin] == 0 ? (0, 0, 0)
        : (_time[bin] / _time.Sum(), _stated[bin] / _time[bin], _right[bin] / _time[bin]);

    /// <summary>Compares a work's analysis with the expert's.</summary>
    public void Add(CueAnalysis analysis, HarmonicReading expert)
    {
        Works++;
        var ours = analysis.Chords.OrderBy(c => c.Reading.Onset).ToArray();
        var theirs = expert.Chords.OrderBy(c => c.Onset).ToArray();
        var end = theirs[^1].End;
        var cuts = ours.Select(c => c.Reading.Onset).Concat(theirs.Select(c => c.Onset)).Append(end).Distinct().Order().ToArray();
        int found = -1, stated = -1;
        var (quarters, statedOutside, foundOutside) = (Fraction.Zero, Fraction.Zero, Fraction.Zero);
        KeysStated += Keys(theirs);
        KeysFound += Keys(ours.Select(c => c.Reading));
        for (var i = 0; i + 1 < cuts.Length; i++)
        {
            while (found + 1 < ours.Length && ours[found + 1].Reading.Onset <= cuts[i]) found++;
            while (stated + 1 < theirs.Length && theirs[stated + 1].Onset <= cuts[i]) stated++;
            if (stated < 0 || theirs[stated].Numeral is null) continue;
            var time = cuts[i + 1] - cuts[i];
            quarters += time;
            if (StatedDevice.Of(theirs[stated].Key, theirs[stated].Numeral!).Length > 0) statedOutside += time;
            if (found >= 0 && ours[found].Device is not null) foundOutside += time;
            if (found < 0 || ours[found].Reading.Numeral is null) continue;
            var same = Compare(ours[found].Reading, ours[found].Device is not null, theirs[stated]);
            for (var field = 0; field < same.Length; field++)
                if (same[field]) _agreed[field] += time;
            if (KindOfError(same) is { } kind)
            {
                _errors[kind] += time;
                _disagreements.Add(Disagreement.At(ErrorKinds[kind], cuts[i], time, analysis, ours[found].Reading, theirs[stated]));
            }

            var isRight = same[Fields.ToList().IndexOf("numeral")];
            var bin = Math.Min(Bins - 1, (int)(ours[found].Reading.Confidence * Bins));
            var weight = time.ToDouble();
            _time[bin] += weight;
            _stated[bin] += weight * ours[found].Reading.Confidence;
            if (isRight) _right[bin] += weight;
            if (isRight && ours[found].Device is null
                && StatedDevice.Of(theirs[stated].Key, theirs[stated].Numeral!) is { Length: > 0 } device)
                AddDropped(ours[found], device);
        }

        Quarters += quarters;
        if (quarters.Sign > 0) _signedShares += ((foundOutside - statedOutside) / quarters).ToDouble();
    }

    // A chord over several stretches is listed once.
    private void AddDropped(TaggedChord chord, string device)
    {
        var text = $"at {chord.Reading.Onset}: {chord.Reading.Numeral} in {chord.Reading.Key}, {device}; {ReasonText.Of(chord.Reason)}";
        if (_dropped.Count == 0 || _dropped[^1] != text) _dropped.Add(text);
    }

    private static int? KindOfError(bool[] same)
    {
        bool Same(string field) => same[Fields.ToList().IndexOf(field)];
        if (Same("numeral")) return null;
        return (Same("key"), Same("root")) switch
        {
            (false, true) => 0,
            (true, false) => 1,
            (false, false) => 2,
            _ => !Same("degree") ? 5 : Same("quality") ? 3 : Same("inversion") ? 4 : 5,
        };
    }

    private static int Keys(IEnumerable<ChordReading> chords)
    {
        var count = 0;
        Key? last = null;
        foreach (var key in chords.Where(c => c.Numeral is not null).Select(c => c.Key))
        {
            if (key != last) count++;
            last = key;
        }

        return count;
    }

    /// <summary>Adds what another has counted.</summary>
    public void Add(Agreement other)
    {
        Works += other.Works;
        Quarters += other.Quarters;
        for (var field = 0; field < _agreed.Length; field++) _agreed[field] += other._agreed[field];
        for (var kind = 0; kind < _errors.Length; kind++) _errors[kind] += other._errors[kind];
        KeysStated += other.KeysStated;
        KeysFound += other.KeysFound;
        _signedShares += other._signedShares;
        _dropped.AddRange(other._dropped);
        _disagreements.AddRange(other._disagreements);
        for (var bin = 0; bin < Bins; bin++)
        {
            _time[bin] += other._time[bin];
            _stated[bin] += other._stated[bin];
            _right[bin] += other._right[bin];
        }
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
