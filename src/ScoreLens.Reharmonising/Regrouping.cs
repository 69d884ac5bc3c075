using ScoreLens.Devices;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// An analysis whose chords begin and end elsewhere: what another harmonic rhythm asks for. A span inside a chord cuts it; a span over
/// several chords makes one of them.
/// </summary>
internal static class Regrouping
{
    /// <summary>The analysis with exactly one chord over each span: of those that stand there the one that takes most of it.</summary>
    /// <param name="analysis">The analysis.</param>
    /// <param name="spans">The spans; no two overlap.</param>
    public static CueAnalysis With(CueAnalysis analysis, IReadOnlyList<ChordSpan> spans)
    {
        var chords = analysis.Chords.ToList();
        foreach (var span in spans)
        {
            var (first, last) = (chords.FindIndex(c => c.Reading.End > span.Start), chords.FindLastIndex(c => c.Reading.Onset < span.End));
            if (first < 0 || last < first) continue;
            var over = chords[first..(last + 1)];
            var most = over.Where(c => c.Reading.Numeral is not null).DefaultIfEmpty(over[0]).MaxBy(c => Shared(c, span))!;
            TaggedChord?[] pieces = [Part(over[0], over[0].Reading.Onset, span.Start), Part(most, span.Start, span.End),
                Part(over[^1], span.End, over[^1].Reading.End)];
            chords.RemoveRange(first, over.Count);
            chords.InsertRange(first, pieces.OfType<TaggedChord>());
        }

        return analysis with { Chords = chords, Reading = analysis.Reading with { Chords = [.. chords.Select(c => c.Reading)] } };
    }

    /// <summary>The analysis with a choice written into the score and named as it was offered.</summary>
    public static CueAnalysis With(CueAnalysis analysis, Choice choice)
    {
        var (score, numeral) = (choice.Alternative.Rewriting.ApplyTo(analysis.Score), choice.Alternative.Numeral);
        var sonorities = SonorityFinder.Find(score);
        var (start, end) = (choice.Alternative.Rewriting.Start, choice.Alternative.Rewriting.End);
        // Only what sounds in the chord is heard anew.
        var chords = analysis.Reading.Chords.ToArray();
        chords[choice.Index] = ChordSound.Hear([chords[choice.Index] with { Numeral = numeral, Confidence = 1, RunnersUp = [] }],
            [.. TonesInTime.Between(sonorities, start, end)])[0];
        var reading = analysis.Reading with { Chords = chords };
        var evidence = new Evidence(sonorities, analysis.Phrases, [.. score.Parts.Select(p => p.Name)]);
        return analysis with { Score = score, Sonorities = sonorities, Reading = reading, Chords = DeviceFinder.Find(reading, evidence) };
    }

    private static Fraction Shared(TaggedChord chord, ChordSpan span) =>
        Fraction.Min(span.End, chord.Reading.End) - Fraction.Max(span.Start, chord.Reading.Onset);

    private static TaggedChord? Part(TaggedChord chord, Fraction start, Fraction end) =>
        end <= start ? null : chord with { Reading = chord.Reading with { Onset = start, Duration = end - start } };
}
