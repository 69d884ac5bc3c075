using NAudio.Midi;
using ScoreLens.Notation;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Output.Midi;

/// <summary>Writes the notes of a score as a Standard MIDI File of type 1, a track a part.</summary>
internal static class MidiWriter
{
    /// <summary>Divisible by 2 to 10, so that tuplets fall on ticks.</summary>
    public const int DefaultTicks = 10080;

    private const int MaxBeatType = 64;

    // A tempo is stated in microseconds a quarter, in 24 bits (Standard MIDI Files 1.0, Set Tempo).
    private const double MicrosecondsOfMinute = 60_000_000, LongestQuarter = 0xFFFFFF;

    /// <summary>The bytes of the file; at the tempos of the score, and 120 quarter notes a minute where it states none.</summary>
    /// <param name="score">The score; grace and cue notes are left out.</param>
    /// <param name="ticksPerQuarter">Ticks of a quarter note, 1 to 32767.</param>
    /// <param name="hasKeys">Whether key signatures are written.</param>
    public static byte[] Write(Score score, int ticksPerQuarter = DefaultTicks, bool hasKeys = true)
    {
        ArgumentNullException.ThrowIfNull(score);
        var events = new MidiEventCollection(1, ticksPerQuarter);
        events.AddTrack();
        events.AddEvent(new TextEvent(score.Title, MetaEventType.SequenceTrackName, 0), 0);
        Measure? before = null;
        TimeSignature? stated = null;
        foreach (var measure in score.Measures.Where(m => m.Length.Sign > 0))
        {
            var tick = Ticks(measure.Start);
            if (Stated(measure) is { } time && time != stated)
            {
                events.AddEvent(new TimeSignatureEvent(tick, time.Beats, int.Log2(time.BeatType), 24, 8), 0);
                stated = time;
            }

            if (hasKeys && (before is null || before.Signature != measure.Signature || before.SignatureMode != measure.SignatureMode))
                events.AddEvent(new KeySignatureEvent(Math.Clamp(measure.Signature, -7, 7), measure.SignatureMode == Mode.Minor ? 1 : 0,
                    tick), 0);
            before = measure;
        }

        foreach (var tempo in score.Tempos)
            events.AddEvent(new TempoEvent((int)Math.Clamp(MicrosecondsOfMinute / tempo.QuartersPerMinute, 1, LongestQuarter),
                Ticks(tempo.Onset)), 0);

        foreach (var part in score.Parts)
        {
            var track = part.Index + 1;
            events.AddTrack();
            events.AddEvent(new TextEvent(part.Name, MetaEventType.SequenceTrackName, 0), track);
            var channel = (part.Index % 15) + (part.Index % 15 >= 9 ? 2 : 1);
            foreach (var note in SonorityFinder.JoinTies(score.Notes.Where(n => n.Part == part.Index && n.Pitch.Midi is >= 0 and <= 127)))
            {
                var (start, end) = (Ticks(note.Onset), Ticks(note.End));
                var on = new NoteOnEvent(start, channel, note.Pitch.Midi, 80, (int)Math.Max(1, end - start));
                events.AddEvent(on, track);
                if (on.OffEvent is { } off) events.AddEvent(off, track);
            }
        }

        events.PrepareForExport();
        using var memory = new MemoryStream();
        MidiFile.Export(memory, events);
        return memory.ToArray();

        long Ticks(Fraction time) => (time * ticksPerQuarter).Floor();
    }

    // MIDI has no incomplete measure: a pickup, or a part of a measure, is one of a time signature of its own length.
    private static TimeSignature? Stated(Measure measure)
    {
        var time = measure.Time;
        if (measure.Length == time.Length && int.IsPow2(time.BeatType)) return new TimeSignature(time.Beats, time.BeatType);
        for (var type = int.IsPow2(time.BeatType) ? time.BeatType : 4; type <= MaxBeatType; type *= 2)
        {
            var beats = measure.Length * type / 4;
            if (beats.Denominator == 1 && beats <= byte.MaxValue) return new TimeSignature((int)beats.Floor(), type);
        }

        return null;
    }
}
