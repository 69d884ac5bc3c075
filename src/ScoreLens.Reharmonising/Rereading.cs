using ScoreLens.Devices;
using ScoreLens.Keys;
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
    /// <summary>Far enough that what is left out hardly bears on the chord: the benchmark <c>offers</c> counts how often it does.</summary>
    internal const int MeasuresAround = 6;

    /// <summary>
    /// The chord that is then read for most of the alternative's span; null where none is. Only the six measures on either side are read.
    /// </summary>
    /// <param name="score">The score as it was before.</param>
    /// <param name="alternative">An alternative that can be written into it.</param>
    /// <exception cref="InvalidOperationException">It cannot be.</exception>
    public static TaggedChord? Of(Score score, Alternative alternative) => Of(score, alternative, MeasuresAround, KeyRule.Confirm);

    /// <summary>The same with so many measures on either side.</summary>
    internal static TaggedChord? Of(Score score, Alternative alternative, int measuresAround, KeyRule keys)
    {
        ArgumentNullException.ThrowIfNull(score);
        ArgumentNullException.ThrowIfNull(alternative);
        return In(Excerpt.Around(score, alternative.Rewriting.Start, alternative.Rewriting.End, measuresAround), alternative, keys);
    }

    /// <summary>The same in an excerpt of the score that is cut already.</summary>
    internal static TaggedChord? In(Excerpt excerpt, Alternative alternative, KeyRule keys)
    {
        if (!alternative.Rewriting.IsPossible) throw new InvalidOperationException(alternative.Rewriting.Obstacle);
        return Longest(CueAnalysis.Of(excerpt.With(alternative.Rewriting), keys, HarmonySource.Notes),
            alternative.Rewriting.Start - excerpt.From,
            alternative.Rewriting.End - excerpt.From);
    }

    /// <summary>The same in a score that holds the alternative already.</summary>
    internal static TaggedChord? InWritten(Score written, Alternative alternative, KeyRule keys)
    {
        var (start, end) = (alternative.Rewriting.Start, alternative.Rewriting.End);
        return In(Excerpt.Around(written, start, end, MeasuresAround), alternative with { Rewriting = new Rewriting(start, end, [], "") },
            keys);
    }

    /// <summary>The chord of an analysis that takes most of the alternative's span; null where none does.</summary>
    /// <param name="analysis">An analysis of the score with the alternative in it.</param>
    /// <param name="alternative">The alternative.</param>
    public static TaggedChord? In(CueAnalysis analysis, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(alternative);
        return Longest(analysis, alternative.Rewriting.Start, alternative.Rewriting.End);
    }

    /// <summary>
    /// Whether a chord is read as the alternative that was promised: same key, numeral and device. A target may be written in either mode
    /// (<c>V7/V</c> and <c>V7/v</c> in minor have the same tones). The reader has no numeral for a
    /// common-tone diminished seventh and names its tones by the leading tone that one of them would be (<c>viio42/iii</c>): there the
    /// device, the chord whose root is kept, the sound and the bass have to be the same.
    /// </summary>
    public static bool Is(TaggedChord? found, Alternative alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return found?.Reading.Numeral is { } numeral && found.Reading.Key == alternative.Key && found.Device == alternative.Device
            && (numeral == alternative.Numeral || IsSameTarget(numeral, alternative)
                || (alternative.Numeral.Kind == NumeralKind.CommonToneDiminished && IsSameDecoration(found, numeral, alternative)));
    }

    private static TaggedChord? Longest(CueAnalysis analysis, Fraction start, Fraction end) =>
        analysis.Chords.Where(c => c.Reading.Onset < end && c.Reading.End > start)
            .MaxBy(c => Fraction.Min(end, c.Reading.End) - Fraction.Max(start, c.Reading.Onset));

    private static bool IsSameTarget(Numeral numeral, Alternative alternative)
    {
        var (key, promised) = (alternative.Key, alternative.Numeral);
        return numeral.Kind == NumeralKind.Plain && promised.Kind == NumeralKind.Plain
            && numeral.Target is { } target && promised.Target is { } wanted
            && (target.Alteration, target.Degree, numeral.Degree, numeral.Inversion)
                == (wanted.Alteration, wanted.Degree, promised.Degree, promised.Inversion)
            && numeral.Tones(key).SequenceEqual(promised.Tones(key));
    }

    private static bool IsSameDecoration(TaggedChord found, Numeral numeral, Alternative alternative)
    {
        var (key, promised) = (alternative.Key, alternative.Numeral);
        return string.Equals(found.Target ?? "", $"{promised.Target}", StringComparison.OrdinalIgnoreCase)
            && numeral.Bass(key).IsEnharmonicWith(promised.Bass(key))
            && numeral.Tones(key).Select(t => t.PitchClass).Order().SequenceEqual(promised.Tones(key).Select(t => t.PitchClass).Order());
    }
}
