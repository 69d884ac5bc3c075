using System.Globalization;
using ScoreLens.Devices;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens;

/// <summary>Everything that is found in one score: each stage's result, in the order in which they build on each other.</summary>
/// <param name="Score">The score.</param>
/// <param name="Sonorities">Its verticals.</param>
/// <param name="Reading">Chords with local keys and numerals.</param>
/// <param name="Chords">The same chords with function, device and resolution.</param>
/// <param name="Phrases">Phrases and cadences.</param>
public sealed record CueAnalysis(
    Score Score,
    IReadOnlyList<Sonority> Sonorities,
    HarmonicReading Reading,
    IReadOnlyList<TaggedChord> Chords,
    IReadOnlyList<Phrase> Phrases)
{
    // Each movement of several; none where the file holds one.
    private CueAnalysis[] Parts { get; init; } = [];

    /// <summary>
    /// Each movement as a cue of its own: its score, home key, chords and phrases, with the times and phrase numbers of the whole file.
    /// Only this one where the file holds one movement.
    /// </summary>
    public IReadOnlyList<CueAnalysis> Movements => Parts.Length == 0 ? [this] : Parts;

    /// <summary>Its movement's number, from 1; that of the first one where it is of several.</summary>
    public int Movement => Movements[0].Score.Measures is [var measure, ..] ? measure.Movement : 1;

    /// <summary>Analyses a score: the one entry point from a score to everything that is said of it. Each movement is read for itself.</summary>
    public static CueAnalysis Of(Score score)
    {
        ArgumentNullException.ThrowIfNull(score);
        var movements = score.Movements;
        if (movements.Count < 2) return OfOne(score);
        var read = new List<CueAnalysis>();
        foreach (var movement in movements)
        {
            var one = OfOne(score.Of(movement));
            var before = read.Sum(r => r.Phrases.Count);
            read.Add(one with { Phrases = [.. one.Phrases.Select(p => p with { Number = p.Number + before })] });
        }

        return Joined(score, [.. read]);
    }

    private static CueAnalysis OfOne(Score score)
    {
        var sonorities = SonorityFinder.Find(score);
        var grouping = new GroupingEvidence(score, sonorities);
        return Of(score, sonorities, grouping, HarmonicReader.Read(score, sonorities, grouping));
    }

    /// <summary>Takes a reading from elsewhere (a teacher's, a table's) and finds devices and phrases in it.</summary>
    public static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return Of(score, sonorities, new GroupingEvidence(score, sonorities),
            reading with { Chords = ChordSound.Hear(reading.Chords, sonorities) });
    }

    /// <summary>
    /// What is said of one movement alone. The score stays the whole file's, so that it can be written into the file.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The score has no movement of this number.</exception>
    public CueAnalysis Only(int movement) => Movements.FirstOrDefault(m => m.Movement == movement) is not { } found
        ? throw new ArgumentOutOfRangeException(nameof(movement), movement, "The score has no such movement.")
        : Parts.Length == 0 ? this : Joined(Score, [found]);

    /// <summary>The tones of a chord outside its local key that sound, and who plays them; a part without a name is called by its number.</summary>
    public IReadOnlyList<ColourTone> ColourOf(TaggedChord chord)
    {
        ArgumentNullException.ThrowIfNull(chord);
        return ColourTone.Of(
            chord,
            Sonorities.Skip(TonesInTime.First(Sonorities, chord.Reading.Onset)).TakeWhile(s => s.Onset < chord.Reading.End),
            [.. Score.Parts.Select(p => p.Name.Length > 0 ? p.Name : string.Create(CultureInfo.InvariantCulture, $"part {p.Index + 1}"))]);
    }

    /// <summary>The home key of the movement that holds a time.</summary>
    public Key HomeKeyAt(Fraction onset) => (Movements.LastOrDefault(m => m.Score.Start <= onset) ?? Movements[0]).Reading.HomeKey;

    /// <summary>The same analysis without devices whose reading is less sure than is asked for.</summary>
    /// <param name="least">The least confidence, 0 to 1; 0 leaves nothing out.</param>
    public CueAnalysis AtLeast(double least) => least <= 0 ? this : this with
    {
        Chords = [.. Chords.Select(c => c.AtLeast(least))],
        Parts = [.. Parts.Select(m => m.AtLeast(least))],
    };

    private static CueAnalysis Joined(Score score, CueAnalysis[] movements)
    {
        // A vertical names its measure by its place in the score.
        var first = score.Movements.ToDictionary(m => m.Number, m => m.FirstMeasure);
        return new CueAnalysis(
            score,
            [.. movements.SelectMany(m => m.Sonorities.Select(s => s with { Measure = s.Measure + first[m.Movement] }))],
            new HarmonicReading(movements[0].Reading.HomeKey, [.. movements.SelectMany(m => m.Reading.Chords)]),
            [.. movements.SelectMany(m => m.Chords)],
            [.. movements.SelectMany(m => m.Phrases)])
        {
            Parts = movements,
        };
    }

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonicReading reading)
    {
        var phrases = PhraseFinder.Find(score, sonorities, grouping, reading);
        var chords = DeviceFinder.Find(reading, new Evidence(sonorities, phrases, [.. score.Parts.Select(p => p.Name)]));
        return new CueAnalysis(score, sonorities, reading, chords, phrases);
    }
}
