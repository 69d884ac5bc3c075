using System.Runtime.InteropServices;
using ScoreLens.Grouping;
using ScoreLens.Notation;
using ScoreLens.Reading.Model;
using ScoreLens.Reading.Refinement;
using ScoreLens.Reading.Search;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// Reads verticals as chords in keys with the learned model: scores for every vertical, then the most probable path through
/// them. The same score gives the same reading on every machine, within rounding.
/// </summary>
internal static class HarmonicReader
{
    /// <summary>
    /// Every chord in the key that is heard where it stands; which of these keys count is decided with the phrases, and
    /// <see cref="Finish"/> comes after that. A score in which nothing sounds gives a reading without chords.
    /// </summary>
    public static HarmonicReading Hear(Score score, IReadOnlyList<Sonority> sonorities, GroupingEvidence grouping,
        CancellationToken cancellationToken = default)
    {
        if (sonorities.All(s => s.Notes.Count == 0)) return new HarmonicReading(SignatureKey(score), []);
        var (rows, signatures) = SonorityFeatures.Of(score, sonorities, grouping, cancellationToken);
        var model = ReadingModel.Default;
        var output = model.Run(rows, sonorities, cancellationToken);
        return Hear(model, ReadingSettings.Default, output, signatures, score, sonorities, cancellationToken);
    }

    /// <summary>The same from the scores that a model has given the verticals.</summary>
    public static HarmonicReading Hear(
        ReadingModel model, ReadingSettings settings, float[] output, int[] signatures, Score score, IReadOnlyList<Sonority> sonorities,
        CancellationToken cancellationToken = default)
    {
        var decoding = ReadingDecoder.Decode(model, settings, output, signatures, sonorities, cancellationToken);
        var chords = RefinementSteps.Apply(RefinementSteps.OfKeys, Chords(model.Vocabulary, settings, decoding, score, sonorities),
            new RefinementContext(score, sonorities, settings));
        return new HarmonicReading(HomeKeys.Of(chords, score, settings), chords);
    }

    /// <summary>
    /// The final chords in keys that are decided: their numerals, and what sounds of every chord. The probabilities stay the model's own.
    /// </summary>
    public static HarmonicReading Finish(
        IReadOnlyList<ChordReading> chords, ReadingSettings settings, Score score, IReadOnlyList<Sonority> sonorities)
    {
        if (chords.Count == 0) return new HarmonicReading(SignatureKey(score), []);
        var named = ChordSound.Hear(RefinementSteps.Apply(RefinementSteps.OfNumerals, chords,
            new RefinementContext(score, sonorities, settings)), sonorities, settings);
        return new HarmonicReading(HomeKeys.Of(named, score, settings), named);
    }

    private static Key SignatureKey(Score score) =>
        new(new Tone(score.Measures.Count == 0 ? 0 : score.Measures[0].Signature), Mode.Major);

    private static List<ChordReading> Chords(
        NumeralVocabulary vocabulary, ReadingSettings settings, Decoding decoding, Score score, IReadOnlyList<Sonority> sonorities)
    {
        var chords = new List<ChordReading>();
        var sums = new Dictionary<Pair, double>();
        for (int start = 0, end; start < sonorities.Count; start = end)
        {
            end = start + 1;
            var silent = IsLongSilence(score, sonorities[start]);
            while (end < sonorities.Count && IsLongSilence(score, sonorities[end]) == silent
                && (silent || decoding.Path[end] == decoding.Path[start])) end++;
            chords.Add(silent ? Silence(vocabulary, decoding, sonorities, start, end)
                : Chord(vocabulary, settings, decoding, sonorities, start, end, decoding.Path[start], sums));
        }

        return chords;
    }

    // A short rest belongs to the chord before it; a measure of silence is no chord.
    private static bool IsLongSilence(Score score, Sonority sonority) =>
        sonority.Notes.Count == 0 && (sonority.Onset == score.Start || sonority.Duration >= score.Measures[sonority.Measure].Time.Length);

    private static ChordReading Silence(NumeralVocabulary vocabulary, Decoding decoding, IReadOnlyList<Sonority> sonorities, int start,
        int end) =>
        new(sonorities[start].Onset, sonorities[end - 1].End - sonorities[start].Onset, KeyOf(vocabulary, decoding.Path[start]), null, 0,
            []);

    /// <summary>A chord from verticals and the pair that was chosen for them; the sums of probabilities are room to work in.</summary>
    internal static ChordReading Chord(
        NumeralVocabulary vocabulary, ReadingSettings settings, Decoding decoding, IReadOnlyList<Sonority> sonorities, int start, int end,
        Pair chosen, Dictionary<Pair, double> sums)
    {
        var onset = sonorities[start].Onset;
        var duration = sonorities[end - 1].End - onset;
        sums.Clear();
        for (var t = start; t < end; t++)
        {
            var share = sonorities[t].Duration.ToDouble() / duration.ToDouble();
            foreach (var (pair, probability) in decoding.Marginals[t])
                CollectionsMarshal.GetValueRefOrAddDefault(sums, pair, out _) += share * probability;
        }

        var others = sums.Where(p => p.Key != chosen && p.Value >= settings.LeastRunnerUp).OrderByDescending(p => p.Value)
            .Take(settings.RunnersUpKept)
            .Select(p => new RunnerUp(KeyOf(vocabulary, p.Key), vocabulary.Numerals[p.Key.Entry], p.Value));
        return new ChordReading(
            onset, duration, KeyOf(vocabulary, chosen), vocabulary.Numerals[chosen.Entry],
                Math.Clamp(sums.GetValueOrDefault(chosen), 0, 1), [.. others]);
    }

    private static Key KeyOf(NumeralVocabulary vocabulary, Pair pair) => new(new Tone(pair.Tonic), vocabulary.Classes[pair.Entry].Mode);
}
