using ScoreLens.Devices;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;

namespace ScoreLens.Training.Progressions;

/// <summary>What is true of a chord of a written progression.</summary>
/// <param name="Onset">Quarter notes from the start.</param>
/// <param name="Duration">Quarter notes.</param>
/// <param name="Key">The local key.</param>
/// <param name="Numeral">The numeral in it.</param>
/// <param name="Device">The device, or null where it is diatonic.</param>
public sealed record TrueChord(Fraction Onset, Fraction Duration, Key Key, Numeral Numeral, Device? Device);

/// <summary>A progression written as a score, with what is true of each chord.</summary>
/// <param name="Name">What it shows.</param>
/// <param name="Setting">How it is written.</param>
/// <param name="Score">The score.</param>
/// <param name="Chords">The truth, chord by chord, without gaps.</param>
public sealed record WrittenProgression(string Name, Setting Setting, Score Score, IReadOnlyList<TrueChord> Chords)
{
    /// <summary>The truth as a reading, so that the stages after it can be tried alone.</summary>
    public HarmonicReading ToReading() =>
        new(Setting.Home, [.. Chords.Select(c => new ChordReading(c.Onset, c.Duration, c.Key, c.Numeral, 1, []))]);
}

/// <summary>Writes progressions as scores: voices, rhythm, texture and non-chord notes.</summary>
public static class ProgressionWriter
{
    /// <summary>Writes a progression. The same random numbers give the same score.</summary>
    public static WrittenProgression Write(HandbookProgression progression, Setting setting, Random random)
    {
        ArgumentNullException.ThrowIfNull(progression);
        ArgumentNullException.ThrowIfNull(setting);
        return Write(progression.Name, progression.In(setting.Home), setting, random);
    }

    /// <summary>Writes chords that lie in one or more keys.</summary>
    public static WrittenProgression Write(string name, IReadOnlyList<ProgressionChord> chords, Setting setting, Random random)
    {
        ArgumentNullException.ThrowIfNull(chords);
        ArgumentNullException.ThrowIfNull(setting);
        ArgumentNullException.ThrowIfNull(random);
        var voicings = setting.Close ? CloseVoicing.Set(chords, setting.Voices, random) : Voicing.Set(chords, setting.Voices, random);
        var spans = new List<TextureSpan>();
        var truth = new List<TrueChord>();
        var at = Fraction.Zero;
        for (var i = 0; i < chords.Count; i++)
        {
            var duration = setting.Unit * chords[i].Length;
            if (i == chords.Count - 1) duration += Rest(at + duration, setting.Time.Length);
            spans.Add(new TextureSpan(chords[i], at, duration, voicings[i]));
            truth.Add(new TrueChord(at, duration, chords[i].Key, chords[i].Numeral, chords[i].Device));
            at += duration;
        }

        var notes = TextureWriter.Write(spans, setting, random);
        var measures = Measures(at, setting);
        notes = [.. SplitAtBarlines(notes.Select(n => setting.SimpleSpelling ? n with { Pitch = Simple(n.Pitch) } : n), BarlineAfter)
            .OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff).ThenByDescending(n => n.Pitch)];
        Fraction BarlineAfter(Fraction at) => setting.Time.Length * new Fraction((at / setting.Time.Length).Floor() + 1);
        var last = notes.Max(n => n.Part);
        var staves = Enumerable.Range(0, last + 1).Select(p => notes.Where(n => n.Part == p).Max(n => n.Staff)).ToArray();
        Part[] parts = [.. staves.Select((s, i) => new Part(i, $"P{i + 1}", last == 0 ? "Piano" : $"Voice {i + 1}", s))];
        return new WrittenProgression(name, setting, new Score(name, parts, measures, notes, [], [], []), truth);
    }

    private static Fraction Rest(Fraction end, Fraction measure)
    {
        var over = end - (measure * new Fraction((end / measure).Floor()));
        return over.Sign == 0 ? over : measure - over;
    }

    private static List<Measure> Measures(Fraction end, Setting setting)
    {
        var measures = new List<Measure>();
        var signature = setting.WithSignature ? setting.Home.Signature : 0;
        for (var start = Fraction.Zero; start < end; start += setting.Time.Length)
        {
            var number = (measures.Count + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            measures.Add(new Measure(
                measures.Count, number, start, setting.Time.Length, setting.Time, signature, EndsWithBarline: start
                    + setting.Time.Length >= end));
        }

        return measures;
    }

    /// <summary>
    /// The notes, each cut and tied where a barline crosses it; <paramref name="barlineAfter"/> tells the end of the measure of a time.
    /// </summary>
    internal static IEnumerable<Note> SplitAtBarlines(IEnumerable<Note> notes, Func<Fraction, Fraction> barlineAfter)
    {
        foreach (var note in notes)
        {
            var (start, marks) = (note.Onset, note.Marks);
            // Behind the last barline a note is not cut.
            for (var bar = barlineAfter(start); bar < note.End && bar > start; bar = barlineAfter(start))
            {
                yield return note with { Onset = start, Duration = bar - start, Marks = marks | NoteMarks.TieStart };
                (start, marks) = (bar, marks | NoteMarks.TieStop);
            }

            yield return note with { Onset = start, Duration = note.End - start, Marks = marks };
        }
    }

    private static Pitch Simple(Pitch pitch)
    {
        if (Math.Abs(pitch.Tone.Alteration) < 2) return pitch;
        var tone = pitch.Tone + (pitch.Tone.Alteration > 0 ? -12 : 12);
        for (var octave = pitch.Octave - 1; octave <= pitch.Octave + 1; octave++)
            if (new Pitch(tone, octave) is var simple && simple.Midi == pitch.Midi) return simple;
        return pitch;
    }
}
