using ScoreLens.Devices;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reading.Written;
using ScoreLens.Sonorities;

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
    /// <summary>What the harmony was read from: never <see cref="HarmonySource.Automatic"/>.</summary>
    public HarmonySource Source { get; private init; } = HarmonySource.Notes;

    /// <summary>Analyses a score: the one entry point from a score to everything that is said of it.</summary>
    /// <param name="score">The score.</param>
    /// <param name="from">What harmony is read from where the score has chord symbols; without any it is the notes.</param>
    public static CueAnalysis Of(Score score, HarmonySource from = HarmonySource.Automatic)
    {
        ArgumentNullException.ThrowIfNull(score);
        var sonorities = SonorityFinder.Find(score);
        var grouping = new GroupingEvidence(score, sonorities);
        var (source, reading) = WitnessedReading.Of(score, sonorities, grouping, from);
        return Of(score, sonorities, grouping, reading) with { Source = source };
    }

    /// <summary>Takes a reading from elsewhere (a teacher's, a table's) and finds devices and phrases in it.</summary>
    public static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return Of(score, sonorities, new GroupingEvidence(score, sonorities),
            reading with { Chords = ChordSound.Hear(reading.Chords, sonorities) });
    }

    /// <summary>The same analysis without devices whose reading is less sure than is asked for.</summary>
    /// <param name="least">The least confidence, 0 to 1; 0 leaves nothing out.</param>
    public CueAnalysis AtLeast(double least) => least <= 0 ? this : this with { Chords = [.. Chords.Select(c => c.AtLeast(least))] };

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonicReading reading)
    {
        var phrases = PhraseFinder.Find(score, sonorities, grouping, reading);
        var chords = DeviceFinder.Find(reading, new Evidence(sonorities, phrases, [.. score.Parts.Select(p => p.Name)]));
        return new CueAnalysis(score, sonorities, reading, chords, phrases);
    }
}
