using ScoreLens.Devices;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>An analysis with other chords in the place of some: what a reduction shows of music that is not rewritten.</summary>
public static class OtherReading
{
    /// <summary>
    /// The analysis with other numerals in the keys that are read; what is said of the new chords follows from the numerals alone, since
    /// the score does not sound them.
    /// </summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="numerals">The new numerals by the chords' places in <see cref="CueAnalysis.Chords"/>.</param>
    public static CueAnalysis With(CueAnalysis analysis, IReadOnlyDictionary<int, Numeral> numerals)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(numerals);
        var chords = analysis.Reading.Chords.Select((chord, i) => numerals.TryGetValue(i, out var numeral)
            ? ChordSound.Hear([chord with { Numeral = numeral, Confidence = 1, RunnersUp = [] }], [])[0] : chord).ToArray();
        var reading = analysis.Reading with { Chords = chords };
        var tagged = DeviceFinder.Find(reading, Evidence.Of([]));
        return analysis with
        {
            Reading = reading,
            Chords = [.. analysis.Chords.Select((c, i) => Enumerable.Range(i - 1, 3).Any(numerals.ContainsKey) ? tagged[i] : c)],
        };
    }

    /// <summary>
    /// The analysis with the plain chord of the key in the place of every coloured one that stands for one; the others stay.
    /// </summary>
    public static CueAnalysis Plain(CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var plain = new Dictionary<int, Numeral>();
        foreach (var (index, chord) in analysis.Chords.Index())
        {
            if (chord.Device is not { } device || chord.Reading.Numeral is not { } numeral) continue;
            var behind = PlainChord.Of(chord.Reading.Key, numeral, device == Device.TritoneSubstitute)
                .Select(p => Substitution.Of(p.Numeral, null, new PlainBehind(), p.Inversions)!.Numerals[0]).FirstOrDefault();
            if (behind is not null) plain[index] = behind;
        }

        return With(analysis, plain);
    }
}
