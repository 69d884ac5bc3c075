using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;
using ScoreLens.Training.Progressions;

namespace ScoreLens.TestKit.Devices;

/// <summary>What the battery asks of one chord and what it got.</summary>
/// <param name="Progression">The handbook progression.</param>
/// <param name="Setting">How it was written.</param>
/// <param name="Index">The chord's place in it.</param>
/// <param name="Truth">What the handbook says.</param>
/// <param name="Found">What was found over most of the chord's time.</param>
internal sealed record BatteryAnswer(HandbookProgression Progression, Setting Setting, int Index, TrueChord Truth, TaggedChord? Found)
{
    /// <summary>Whether the device is the handbook's, or there is none where it has none.</summary>
    public bool IsRight => Found?.Device == Truth.Device;
}

/// <summary>
/// The handbook's progressions in every key, texture and number of voices, through the device stage with the handbook's own
/// numerals, or through everything from the score on.
/// </summary>
internal static class Battery
{
    /// <summary>
    /// Settings of a progression: all twelve keys, in each every texture; voices, metre and harmonic rhythm take turns so that
    /// each meets each over the whole battery, one score in four has
    /// no key signature, and one in five is in close position.
    /// </summary>
    public static IEnumerable<Setting> Settings(HandbookProgression progression)
    {
        TimeSignature[] times = [new(4, 4), new(3, 4), new(6, 8), new(2, 2)];
        var turn = progression.Name.Length;
        foreach (var key in Setting.Keys(progression.Mode))
        {
            foreach (var texture in Enum.GetValues<Texture>())
            {
                var time = times[turn % 4];
                var unit = turn % 3 == 0 ? time.Length : time.Length / (time.Beats == 3 ? 3 : 2);
                // A broken chord needs time for its notes.
                if (unit < 2 && texture is not (Texture.Block or Texture.Parts)) unit = time.Length;
                yield return new Setting(key, 3 + ((turn / 2) % 4), texture, time, unit, turn % 4 != 1, turn % 2 == 0, turn % 5 == 0);
                turn++;
            }

            turn += 5;
        }
    }

    /// <summary>Writes every <paramref name="every"/>th score and asks about each of its chords.</summary>
    public static IEnumerable<BatteryAnswer> Run(bool wholePipeline, int every, IEnumerable<HandbookProgression>? progressions = null)
    {
        var scores = (progressions ?? Handbook.All).SelectMany(p => Settings(p).Select(s => (Progression: p, Setting: s)))
            .Where((_, i) => i % every == 0);
        return scores.AsParallel().AsOrdered().SelectMany(s => Ask(s.Progression, s.Setting, wholePipeline));
    }

    /// <summary>Writes one score and asks about each of its chords.</summary>
    public static IEnumerable<BatteryAnswer> Ask(HandbookProgression progression, Setting setting, bool wholePipeline)
    {
        var written = ProgressionWriter.Write(progression, setting, new Random(Seed(setting)));
        IReadOnlyList<TaggedChord> found = wholePipeline
            ? CueAnalysis.Of(written.Score).Chords
            : DeviceFinder.Find(written.ToReading(), SonorityFinder.Find(written.Score));
        return [.. written.Chords.Select((truth, i) => new BatteryAnswer(progression, setting, i, truth, At(found, truth)))];
    }

    // Not the hash code, which may differ from run to run.
    private static int Seed(Setting setting) => (setting.Home.Tonic.Fifths * 31) + ((int)setting.Texture * 7) + setting.Voices;

    private static TaggedChord? At(IReadOnlyList<TaggedChord> found, TrueChord truth)
    {
        var end = truth.Onset + truth.Duration;
        return found
            .Where(c => c.Reading.Onset < end && c.Reading.End > truth.Onset)
            .MaxBy(c => Fraction.Min(end, c.Reading.End) - Fraction.Max(truth.Onset, c.Reading.Onset));
    }
}
