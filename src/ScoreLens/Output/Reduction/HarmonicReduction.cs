using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>A chord of a harmonic reduction: one block.</summary>
/// <param name="Chord">The chord of the reading.</param>
/// <param name="Bass">The bass, from E2 to C4.</param>
/// <param name="Upper">Three voices above it in close position, from the lowest up.</param>
public sealed record ReducedChord(TaggedChord Chord, Pitch Bass, IReadOnlyList<Pitch> Upper);

/// <summary>
/// The harmonic reduction of a cue: a block a chord of the reading, spelled in the chord's key, the bass as it is read, the upper voices
/// led smoothly from chord to chord. Where no chord is read there is none.
/// </summary>
/// <param name="Analysis">What was reduced.</param>
/// <param name="Chords">The blocks in order.</param>
public sealed record HarmonicReduction(CueAnalysis Analysis, IReadOnlyList<ReducedChord> Chords)
{
    /// <summary>Reduces an analysed score.</summary>
    /// <remarks>
    /// Where the score plainly sounds another chord than the numeral has a word for (an altered fifth, say), the block is what sounds.
    /// </remarks>
    public static HarmonicReduction Of(CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        var chords = ChordInContext.Link(analysis.Reading, Evidence.Of(analysis.Sonorities));
        var blocks = BlockVoicing.Set([.. chords.Select(c => c is null ? null : BlockOf(c))]);
        return new HarmonicReduction(
            analysis, [.. blocks.Zip(analysis.Chords).Where(b => b.First is not null)
                .Select(b => new ReducedChord(b.Second, b.First!.Bass, b.First.Upper))]);
    }

    /// <summary>
    /// The reduction as a score of one part on two staves, with the measures, metres and key signatures of the original. Chords are cut at
    /// bar lines and tied.
    /// </summary>
    public Score ToScore()
    {
        var source = Analysis.Score;
        var notes = new List<Note>();
        foreach (var chord in Chords)
        {
            var (onset, end) = (chord.Chord.Reading.Onset, chord.Chord.Reading.End);
            for (var m = Sorted.FirstWhere(source.Measures.Count, i => source.Measures[i].End > onset); m < source.Measures.Count; m++)
            {
                var measure = source.Measures[m];
                if (measure.Start >= end) break;
                // A measure that holds nothing takes no part of the chord.
                if (measure.Length.Sign == 0) continue;
                var (start, stop) = (Fraction.Max(onset, measure.Start), Fraction.Min(end, measure.End));
                var marks = (start > onset ? NoteMarks.TieStop : 0) | (stop < end ? NoteMarks.TieStart : 0);
                notes.Add(new Note(chord.Bass, start, stop - start, 0, 2, "2", marks));
                notes.AddRange(chord.Upper.Select(p => new Note(p, start, stop - start, 0, 1, "1", marks)));
            }
        }

        var title = source.Title.Length == 0 ? "Harmonic reduction" : $"{source.Title}: harmonic reduction";
        return new Score(title, [new Part(0, "P1", "Reduction", 2)], source.Measures, notes, [], [], [])
        {
            Tempos = source.Tempos,
        };
    }

    private static BlockChord BlockOf(ChordInContext chord)
    {
        var tones = chord.Tones.ToList();
        if (chord.Numeral.Extension != 0 && tones.Count == 4) tones.Add(Ninth(chord));
        Tone? seventh = chord.Quality.IsSeventh() && chord.Numeral.Kind != NumeralKind.CommonToneDiminished ? tones[3] : null;
        // By its place above the tonic: of a far-off key the leading tone may have no name.
        bool IsLeading(Tone tone) => tone - chord.Key.Tonic == 5;
        var tendencies = tones.Where(t => t == seventh || IsLeading(t) || IsOutside(chord, t)).ToArray();
        var heard = chord.Sonorities.Skip(TonesInTime.First(chord.Sonorities, chord.Reading.Onset))
            .TakeWhile(s => s.Onset < chord.Reading.End)
            .Select(s => s.Bass).FirstOrDefault(b => b?.Pitch.Tone.IsEnharmonicWith(chord.Bass) == true);
        return new BlockChord(tones, chord.Bass, tendencies, seventh, tones.Exists(IsLeading) ? tones.Find(IsLeading) : null,
            heard?.Pitch.Midi);
    }

    // The root and fifth of a chromatic chord may be doubled; its chromatic third, and both tones of an augmented sixth, not.
    private static bool IsOutside(ChordInContext chord, Tone tone) =>
        chord.Quality.IsAugmentedSixth() ? tone == chord.Tones[0] || tone == chord.Tones[^1]
        : !chord.Key.Contains(tone) && tone != chord.Tones[0];

    // The ninth that sounds, else the one of the scale.
    private static Tone Ninth(ChordInContext chord)
    {
        var (major, minor) = (chord.Tones[0] + 2, chord.Tones[0] + -5);
        var (heardMajor, heardMinor) = (chord.Presence.GetValueOrDefault(major), chord.Presence.GetValueOrDefault(minor));
        return heardMajor == heardMinor ? chord.Key.Contains(major) ? major : minor : heardMajor > heardMinor ? major : minor;
    }
}
