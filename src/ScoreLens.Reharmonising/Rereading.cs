using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// Reads a score again with an alternative in it: what the alternative is called is a promise, and this is the check on it. Readers may
/// differ over rare chords.
/// </summary>
public static class Rereading
{
    // Far enough that what is left out does not bear on the chord.
    private const int MeasuresAround = 8;

    /// <summary>
    /// The chord that is then read for most of the alternative's span; null where none is. Only the eight measures on either side are read.
    /// </summary>
    /// <param name="score">The score as it was before.</param>
    /// <param name="alternative">An alternative that can be written into it.</param>
    /// <exception cref="InvalidOperationException">It cannot be.</exception>
    public static TaggedChord? Of(Score score, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(alternative);
        var (start, end) = (alternative.Rewriting.Start, alternative.Rewriting.End);
        var from = score.Measures[Math.Max(0, score.MeasureAt(start).Index - MeasuresAround)].Start;
        var to = score.Measures[Math.Min(score.Measures.Count - 1, score.MeasureAt(end).Index + MeasuresAround)].End;
        var written = alternative.Rewriting.ApplyTo(score);
        return In(CueAnalysis.Of(written with { Notes = [.. written.Notes.Where(n => n.Onset >= from && n.Onset < to)] }, from: HarmonySource.Notes), alternative);
    }

    /// <summary>The chord of an analysis that takes most of the alternative's span; null where none does.</summary>
    /// <param name="analysis">An analysis of the score with the alternative in it.</param>
    /// <param name="alternative">The alternative.</param>
    public static TaggedChord? In(CueAnalysis analysis, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(alternative);
        var (start, end) = (alternative.Rewriting.Start, alternative.Rewriting.End);
        return analysis.Chords.Where(c => c.Reading.Onset < end && c.Reading.End > start)
            .MaxBy(c => Fraction.Min(end, c.Reading.End) - Fraction.Max(start, c.Reading.Onset));
    }

    /// <summary>
    /// Whether a chord is read as the alternative that was promised: same key, numeral and device. The reader has no numeral for a
    /// common-tone diminished seventh and names its tones by the leading tone that one of them would be (<c>viio42/iii</c>): there the
    /// device, the chord whose root is kept, the sound and the bass have to be the same.
    /// </summary>
    public static bool Is(TaggedChord? found, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return found?.Reading.Numeral is { } numeral && found.Reading.Key == alternative.Key && found.Device == alternative.Device
            && (numeral == alternative.Numeral || (alternative.Numeral.Kind == NumeralKind.CommonToneDiminished
                && IsSameDecoration(found, numeral, alternative)));
    }

    private static bool IsSameDecoration(TaggedChord found, Numeral numeral, Alternative alternative)
    {
        var (key, promised) = (alternative.Key, alternative.Numeral);
        return (found.Target ?? "") == $"{promised.Target}" && numeral.Bass(key).IsEnharmonicWith(promised.Bass(key))
            && numeral.Tones(key).Select(t => t.PitchClass).Order().SequenceEqual(promised.Tones(key).Select(t => t.PitchClass).Order());
    }
}
