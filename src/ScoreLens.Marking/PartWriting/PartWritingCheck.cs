using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;

namespace ScoreLens.Marking.PartWriting;

/// <summary>Checks the voice leading of an exercise.</summary>
public static class PartWritingCheck
{
    /// <summary>The faults against the rules that are on, by onset, then in the order of the rules.</summary>
    /// <param name="analysis">The exercise; its chords tell chord notes and others apart.</param>
    /// <param name="options">Rules, weights, style and ranges.</param>
    public static IReadOnlyList<Remark> Run(CueAnalysis analysis, PartWritingOptions options)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return Run(analysis.Score, analysis.Sonorities, analysis.Reading, options);
    }

    /// <summary>The same with a reading from elsewhere.</summary>
    /// <param name="score">The exercise.</param>
    /// <param name="sonorities">Its verticals.</param>
    /// <param name="reading">Its chords, by which chord notes and others are told apart.</param>
    /// <param name="options">Rules, weights, style and ranges.</param>
    internal static IReadOnlyList<Remark> Run(
        Score score, IReadOnlyList<Sonority> sonorities, HarmonicReading reading, PartWritingOptions options)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(sonorities);
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(options);
        // Counterpoint knows intervals, not chords.
        var chords = options.Style == PartWritingStyle.Counterpoint ? reading with { Chords = [] } : reading;
        var progression = new VoicedProgression(score, sonorities, chords, options);
        if (progression.Voices.Count < 2) return [];
        var remarks =
            from rule in options.Rules
            where options.WeightOf(rule) > 0
            from fault in rule.Find(progression)
            select Remark(progression, rule, fault);
        return [.. remarks.OrderBy(r => r.Onset)];
    }

    private static Remark Remark(VoicedProgression progression, PartWritingRule rule, Fault fault) => Marking.Remark.At(
        progression.Score,
        fault.Onset,
        rule.Kind,
        fault.Facts,
        [.. fault.Notes.Select(n => n.Note)],
        [.. fault.Notes.Select(n => n.Voice).Distinct().Order().Select(progression.Name)]);
}
