using NAudio.Midi;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Reduction;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Tests.Reduction;

/// <summary>What must hold of every reduction, whatever is reduced.</summary>
internal static class Reductions
{
    /// <summary>What does not hold of a score's reduction; empty where all does.</summary>
    public static IEnumerable<string> Problems(CueAnalysis analysis)
    {
        var reduction = HarmonicReduction.Of(analysis);
        var xml = ReductionScore.MusicXml(reduction, LabelOptions.Default);
        foreach (var fault in MusicXmlSchema.Faults(xml).Take(3)) yield return fault;

        var read = ScoreFile.Parse(xml).Score;
        foreach (var (mine, theirs) in read.Measures.Zip(analysis.Score.Measures))
        {
            if (mine.Start != theirs.Start || mine.Length != theirs.Length
                || mine.Number != theirs.Number) yield return $"measure {theirs.Number} is another";
            if (mine.Time != theirs.Time) yield return $"measure {theirs.Number} has the metre {mine.Time}";
        }

        var notes = SonorityFinder.JoinTies(read.Notes);
        if (notes.Count != 4 * reduction.Chords.Count) yield return $"{notes.Count} notes in {reduction.Chords.Count} chords";
        foreach (var chord in reduction.Chords)
        {
            var (onset, end) = (chord.Chord.Reading.Onset, chord.Chord.Reading.End);
            var block = notes.Where(n => n.Onset == onset).OrderBy(n => n.Pitch).ToArray();
            if (!block.Select(n => n.Pitch).SequenceEqual(chord.Upper.Prepend(chord.Bass)))
                yield return $"{onset}: reads {string.Join(' ', block.Select(n => n.Pitch))}";
            if (block.Any(n => n.End != Fraction.Min(end, analysis.Score.End))) yield return $"{onset}: does not last to {end}";
            if (block.Any(n => n.Staff != (n.Pitch == chord.Bass ? 2 : 1))) yield return $"{onset}: on the wrong staff";
            if (chord.Upper[^1].Midi - chord.Upper[0].Midi > 12) yield return $"{onset}: not in close position";
        }

        if (!MidiNotes(reduction).SequenceEqual(notes.Select(n => (n.Onset, n.End, n.Pitch.Midi))
            .Order())) yield return "sounds otherwise as MIDI";
    }

    // By the ticks of the file: our own reader of MIDI takes durations for what a player makes of them.
    private static IEnumerable<(Fraction Onset, Fraction End, int Pitch)> MidiNotes(HarmonicReduction reduction)
    {
        using var file = new MemoryStream(ReductionScore.Midi(reduction));
        var midi = new MidiFile(file, strictChecking: true);
        return midi.Events.SelectMany(track => track).OfType<NoteOnEvent>().Where(n => n.OffEvent is not null)
            .Select(n => (Time(n.AbsoluteTime), Time(n.AbsoluteTime + n.NoteLength), n.NoteNumber)).Order();

        Fraction Time(long ticks) => new(ticks, midi.DeltaTicksPerQuarterNote);
    }
}
