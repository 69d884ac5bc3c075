using ScoreLens.Devices;
using ScoreLens.Grouping;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Phrases;
using ScoreLens.Reading;
using ScoreLens.Reading.Refinement;
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
    private Heard? _heard;
    private double _least;

    /// <summary>When a key counts as new in this analysis.</summary>
    public KeyRule Keys { get; private init; } = KeyRule.Confirm;

    /// <summary>Analyses a score: the one entry point from a score to everything that is said of it.</summary>
    /// <param name="score">The score.</param>
    /// <param name="keys">When a key counts as new.</param>
    public static CueAnalysis Of(Score score, KeyRule keys = KeyRule.Confirm)
    {
        ArgumentNullException.ThrowIfNull(score);
        var sonorities = SonorityFinder.Find(score);
        var grouping = new GroupingEvidence(score, sonorities);
        var heard = HarmonicReader.Hear(score, sonorities, grouping);
        return Of(score, sonorities, Heard.Of(heard, score, sonorities, grouping), keys);
    }

    /// <summary>Takes a reading from elsewhere (a teacher's, a table's) and finds devices and phrases in it.</summary>
    public static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return Of(score, sonorities, new GroupingEvidence(score, sonorities),
            reading with { Chords = ChordSound.Hear(reading.Chords, sonorities) });
    }

    /// <summary>
    /// The same score by another rule of keys, without hearing it again. An analysis of a reading from elsewhere has the keys of that
    /// reading under every rule.
    /// </summary>
    public CueAnalysis Under(KeyRule keys) => keys == Keys || _heard is not { } heard ? this
        : Of(Score, Sonorities, heard, keys).AtLeast(_least);

    /// <summary>The same analysis without devices whose reading is less sure than is asked for.</summary>
    /// <param name="least">The least confidence, 0 to 1; 0 leaves nothing out.</param>
    public CueAnalysis AtLeast(double least) => least <= _least ? this
        : this with { Chords = [.. Chords.Select(c => c.AtLeast(least))], _least = least };

    /// <summary>The final reading of what is heard, by a rule of keys; the probabilities are the model's own.</summary>
    internal static HarmonicReading Decide(
        Heard heard, KeyRule keys, ReadingSettings settings, Score score, IReadOnlyList<Sonority> sonorities) => HarmonicReader.Finish(
        KeyDecision.Apply(heard.Reading.Chords, keys, new KeyContext(heard.Reading.HomeKey, heard.Phrases, settings)), settings, score, sonorities);

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, Heard heard, KeyRule keys)
    {
        var reading = Decide(heard, keys, ReadingSettings.Default, score, sonorities);
        return Of(score, sonorities, heard.Grouping, reading with { Chords = StatedConfidence.Of(reading.Chords, sonorities) }) with
        {
            Keys = keys,
            _heard = heard,
        };
    }

    private static CueAnalysis Of(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping, HarmonicReading reading)
    {
        var phrases = PhraseFinder.Find(score, sonorities, grouping, reading);
        var chords = DeviceFinder.Find(reading, new Evidence(sonorities, phrases, [.. score.Parts.Select(p => p.Name)]));
        return new CueAnalysis(score, sonorities, reading, chords, phrases);
    }

    /// <summary>What is the same whatever counts as a key.</summary>
    /// <param name="Reading">Every chord in the key that is heard where it stands.</param>
    /// <param name="Grouping">Cues of grouping.</param>
    /// <param name="Phrases">The phrases of that reading.</param>
    internal sealed record Heard(HarmonicReading Reading, GroupingEvidence Grouping, IReadOnlyList<Phrase> Phrases)
    {
        /// <summary>The same with phrases found in it.</summary>
        public static Heard Of(HarmonicReading reading, Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping) =>
            new(reading, grouping, PhraseFinder.Find(score, sonorities, grouping, reading));
    }
}
