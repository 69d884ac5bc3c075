using ScoreLens.Marking.PartWriting;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Reading.Written;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>
/// What a given bass and its figures say the chords are. Where figures name a chord it is expected, whatever else the notes were
/// read as, and a suspension belongs to the chord that it resolves into; where no figures stand, the reading stays.
/// </summary>
internal static class FiguredReading
{
    /// <summary>A reading with the chords that the figures name in place of its own.</summary>
    /// <param name="reading">The reading of the submission, for keys and for what the figures leave open.</param>
    /// <param name="given">The given score, with figures, in the frame of the submission.</param>
    /// <param name="bass">The notes of the given bass.</param>
    public static HarmonicReading Of(HarmonicReading reading, Score given, IReadOnlyList<LineNote> bass)
    {
        var named = new List<ChordReading>();
        var stages = FiguredStages.Of(given, FiguredBassTexts.Of(given), [.. bass.Select(n => (n.Onset, n.End, n.Pitch.Tone))]);
        for (var i = 0; i < stages.Count; i++)
        {
            var (onset, resolution) = (stages[i].Onset, stages[i + stages[i].ResolvesIn]);
            i += stages[i].ResolvesIn;
            if (resolution.IsHeld || resolution.Text.Length == 0) continue;
            if (reading.Chords.LastOrDefault(c => c.Onset <= onset) is not { Numeral: not null } read) continue;
            if (resolution.Figures?.ChordOver(resolution.Bass, resolution.Signature) is not { } chord
                || chord.Quality.IsAugmentedSixth()) continue;
            var (root, quality, inversion) = chord;
            // The same chord in the reading may say more: what it is applied to.
            if (read.Numeral.Root(read.Key) == root && read.Numeral.Quality == quality && read.Numeral.Inversion == inversion) continue;
            if (Numeral.For(read.Key, root, quality, inversion) is not { } numeral) continue;
            named.Add(new ChordReading(onset, resolution.End - onset, read.Key, numeral, 1, []));
        }

        return named.Count == 0 ? reading : reading with { Chords = With(reading.Chords, named) };
    }

    private static List<ChordReading> With(IReadOnlyList<ChordReading> chords, List<ChordReading> named)
    {
        var result = new List<ChordReading>(named);
        foreach (var chord in chords)
        {
            var start = chord.Onset;
            foreach (var other in named.Where(n => n.Onset < chord.End && n.End > chord.Onset).OrderBy(n => n.Onset))
            {
                if (other.Onset > start) result.Add(chord with { Onset = start, Duration = other.Onset - start });
                start = Fraction.Max(start, other.End);
            }

            if (start < chord.End) result.Add(chord with { Onset = start, Duration = chord.End - start });
        }

        return [.. result.OrderBy(c => c.Onset)];
    }
}
