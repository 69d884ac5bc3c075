using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>
/// Brings what was set into the frame of a submission: its measures, its key, its note values. So everything is judged, and every
/// place named, in the student's own score.
/// </summary>
internal sealed class AlignedReference(ScoreAlignment alignment, Score written, Score set)
{
    private readonly int _fifths = Fifths(alignment.Semitones, written, set);

    /// <summary>
    /// A score that was set, its notes and texts where they stand in the submission; what stands in missing measures is left out.
    /// </summary>
    public Score Of(Score score) => score with
    {
        Measures = written.Measures,
        Notes = [.. score.Notes.SelectMany(Moved).OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff)],
        Texts = [.. score.Texts.SelectMany(t => alignment.TimesOf(t.Onset).Select(time => t with { Onset = time })).OrderBy(t => t.Onset)],
        ChordSymbols = [],
        Rests = [],
    };

    /// <summary>A reading of the score that was set.</summary>
    public HarmonicReading Of(HarmonicReading reading)
    {
        var chords =
            from chord in reading.Chords
            from stretch in alignment.ByMeasure(chord.Onset, chord.End)
            from start in alignment.TimesOf(stretch.Start)
            let length = (stretch.End - stretch.Start) * alignment.Factor
            orderby start
            select chord with { Onset = start, Duration = length, Key = Moved(chord.Key), RunnersUp = [.. chord.RunnersUp.Select(Moved)] };
        return new HarmonicReading(Moved(reading.HomeKey), Joined(chords));
    }

    // A chord that was cut at bar lines is one again where its parts follow each other.
    private static List<ChordReading> Joined(IEnumerable<ChordReading> chords)
    {
        var joined = new List<ChordReading>();
        foreach (var chord in chords)
        {
            if (joined.Count > 0 && joined[^1] is var last && last.End == chord.Onset && last.Key == chord.Key
                && last.Numeral == chord.Numeral)
                joined[^1] = last with { Duration = chord.End - last.Onset };
            else joined.Add(chord);
        }

        return joined;
    }

    private IEnumerable<Note> Moved(Note note) =>
        Moved(note.Pitch) is not { } pitch ? []
            : alignment.TimesOf(note.Onset).Select(t => note with
            {
                Onset = t,
                Duration = note.Duration * alignment.Factor,
                Pitch = pitch
            });

    private Key Moved(Key key) => new(Moved(key.Tonic), key.Mode);

    private RunnerUp Moved(RunnerUp other) => other with { Key = Moved(other.Key) };

    private Tone Moved(Tone tone)
    {
        var fifths = tone.Fifths + _fifths;
        return new Tone(fifths > Tone.MaxFifths ? fifths - 12 : fifths < Tone.MinFifths ? fifths + 12 : fifths);
    }

    private Pitch? Moved(Pitch pitch) =>
        alignment.Semitones == 0 ? pitch : Pitch.Between(Moved(pitch.Tone), pitch.Midi + alignment.Semitones, pitch.Midi
            + alignment.Semitones)
            .Cast<Pitch?>().FirstOrDefault();

    // Of the spellings of a transposition the one that the key signatures say.
    private static int Fifths(int semitones, Score written, Score set)
    {
        if (semitones == 0 || written.Measures.Count == 0 || set.Measures.Count == 0) return 0;
        var bySignature = written.Measures[0].Signature - set.Measures[0].Signature;
        return Enumerable.Range(-12, 25).Where(f => ((7 * f) - semitones) % 12 == 0).MinBy(f => Math.Abs(f - bySignature));
    }
}
