using System.Buffers.Binary;
using NAudio.Midi;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// A key that was pressed: ticks from the start of the file; the key is MIDI's number, 60 for middle C; the channel from 1.
/// </summary>
internal readonly record struct MidiNote(int Track, int Channel, int Key, long Start, long End);

/// <summary>A time signature, from its tick on.</summary>
internal readonly record struct MidiMetre(long Tick, TimeSignature Time);

/// <summary>A key signature in sharps (flats negative), from its tick on.</summary>
internal readonly record struct MidiKey(long Tick, int Sharps, bool IsMinor);

/// <summary>A lyric or a marker.</summary>
internal readonly record struct MidiText(int Track, long Tick, bool IsLyric, string Text);

/// <summary>The span in which a channel's sustain pedal is down.</summary>
internal readonly record struct MidiPedal(int Track, int Channel, long Down, long Up);

/// <summary>What a MIDI file holds, its events paired: sequencers' habits are dealt with here.</summary>
internal sealed class MidiTracks
{
    /// <summary>The name of a track of markers that ScoreLens wrote.</summary>
    public const string OwnTrack = "ScoreLens analysis";

    private const int SustainPedal = 64;

    private readonly Dictionary<int, string> _names = [];

    private readonly int _maxNotes;

    private MidiTracks(int ticksPerQuarter, int maxNotes) => (TicksPerQuarter, _maxNotes) = (ticksPerQuarter, maxNotes);

    public int TicksPerQuarter { get; }

    public List<MidiNote> Notes { get; } = [];

    public List<MidiMetre> Metres { get; } = [];

    public List<MidiKey> Keys { get; } = [];

    public List<MidiText> Texts { get; } = [];

    /// <summary>Tempos from their ticks on, in quarter notes a minute.</summary>
    public List<(long Tick, double QuartersPerMinute)> Tempos { get; } = [];

    public List<MidiPedal> Pedals { get; } = [];

    /// <summary>What is wrong with the file and was read all the same.</summary>
    public List<ScoreWarning> Warnings { get; } = [];

    /// <summary>The sequence's name: that of a first track without notes, which only conducts.</summary>
    public string Title { get; private set; } = "";

    public string NameOf(int track) => _names.GetValueOrDefault(track, "");

    /// <summary>Reads a file, also one in a RIFF container.</summary>
    public static MidiTracks Of(byte[] bytes, ScoreLimits limits)
    {
        var start = bytes.AsSpan().IndexOf("MThd"u8);
        if (start < 0 || bytes.Length < start + 14) throw new ScoreFormatException("This is no Standard MIDI File: its header is missing.");
        var format = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(start + 8));
        var division = BinaryPrimitives.ReadInt16BigEndian(bytes.AsSpan(start + 12));
        if (format > 1) throw new ScoreFormatException("This is a MIDI file of type 2, a set of patterns; export type 0 or 1.");
        if (division <= 0) throw new ScoreFormatException("The MIDI file counts film frames and has no beats; export it with ticks per "
            + "quarter note.");
        MidiEventCollection events;
        var warnings = new List<ScoreWarning>();
        try
        {
            events = new MidiFile(new MemoryStream(Sound(bytes.AsSpan(start), warnings)), strictChecking: false).Events;
        }
        catch (Exception e) when (e is FormatException or IOException or InvalidDataException or ArgumentException
            or IndexOutOfRangeException or OverflowException or NotSupportedException or InvalidOperationException or InvalidCastException)
        {
            throw new ScoreFormatException("The MIDI file is damaged; export it again.", inner: e);
        }

        var file = new MidiTracks(division, limits.MaxNotes);
        file.Warnings.AddRange(warnings);
        for (var track = 0; track < events.Tracks; track++)
            if (!IsOwn(events[track])) file.ReadTrack(track, events[track]);
        if (events.Tracks > 1 && !file.Notes.Exists(n => n.Track == 0)) file.Title = file.NameOf(0);
        return file;
    }

    // Chunks as the header and their lengths say: a length that runs past the end is cut, what is no track is left out,
    // and a track without an end gets one.
    private static byte[] Sound(ReadOnlySpan<byte> bytes, List<ScoreWarning> warnings)
    {
        using var memory = new MemoryStream();
        memory.Write(bytes[..14]);
        var tracks = 0;
        var at = 8L + BinaryPrimitives.ReadUInt32BigEndian(bytes[4..]);
        Span<byte> head = stackalloc byte[8];
        while (at + 8 <= bytes.Length)
        {
            var stated = BinaryPrimitives.ReadUInt32BigEndian(bytes[(int)(at + 4)..]);
            var length = Math.Min(stated, bytes.Length - at - 8);
            var body = bytes.Slice((int)at + 8, (int)length);
            if (bytes.Slice((int)at, 4).SequenceEqual("MTrk"u8))
            {
                if (stated > length)
                {
                    warnings.Add(new ScoreWarning(
                        $"its stated length runs {stated - length} bytes past the file's end. What is there was read; export the file "
                            + $"again if notes are missing.",
                        $"track {tracks + 1}"));
                }

                var hasEnd = body.Length >= 3 && body[^3..].SequenceEqual((ReadOnlySpan<byte>)[0xFF, 0x2F, 0x00]);
                "MTrk"u8.CopyTo(head);
                BinaryPrimitives.WriteUInt32BigEndian(head[4..], (uint)(body.Length + (hasEnd ? 0 : 4)));
                memory.Write(head);
                memory.Write(body);
                if (!hasEnd)
                {
                    memory.Write([0x00, 0xFF, 0x2F, 0x00]);
                    if (stated == length) warnings.Add(new ScoreWarning("it has no end mark. It was read to its stated length.",
                        $"track {tracks + 1}"));
                }

                tracks++;
            }

            at += 8 + length;
        }

        var promised = BinaryPrimitives.ReadUInt16BigEndian(bytes[10..]);
        if (promised != tracks)
            warnings.Add(new ScoreWarning($"The header states {promised} tracks and the file has {tracks}; those that are there were "
                + $"read.", ""));
        var sound = memory.ToArray();
        BinaryPrimitives.WriteUInt32BigEndian(sound.AsSpan(4), 6);
        BinaryPrimitives.WriteUInt16BigEndian(sound.AsSpan(10), (ushort)Math.Min(tracks, ushort.MaxValue));
        return sound;
    }

    // A track of our own markers is no part of the music.
    private static bool IsOwn(IList<MidiEvent> events) => events.OfType<TextEvent>()
        .Any(t => t.MetaEventType == MetaEventType.SequenceTrackName && t.Text == OwnTrack);

    private void ReadTrack(int track, IList<MidiEvent> events)
    {
        // A key may be pressed again before it is released: the first sound ends there. Pressed twice at one time, by two
        // voices that share a note, it is one sound to the later release.
        var pressed = new Dictionary<(int Channel, int Key), (long Start, int Times)>();
        var pedals = new Dictionary<int, long>();
        long last = 0;
        foreach (var item in events)
        {
            var tick = item.AbsoluteTime;
            last = Math.Max(last, tick);
            switch (item)
            {
                case NoteEvent note when note.CommandCode is MidiCommandCode.NoteOn or MidiCommandCode.NoteOff:
                    var key = (note.Channel, note.NoteNumber);
                    var isPress = note.CommandCode == MidiCommandCode.NoteOn && note.Velocity > 0;
                    if (pressed.TryGetValue(key, out var held))
                    {
                        if (isPress && held.Start == tick)
                        {
                            pressed[key] = (tick, held.Times + 1);
                            break;
                        }

                        if (!isPress && held.Times > 1)
                        {
                            pressed[key] = held with { Times = held.Times - 1 };
                            break;
                        }

                        pressed.Remove(key);
                        Add(new MidiNote(track, note.Channel, note.NoteNumber, held.Start, tick));
                    }

                    if (isPress) pressed[key] = (tick, 1);
                    break;
                case ControlChangeEvent control when (int)control.Controller == SustainPedal:
                    if (control.ControllerValue >= 64) pedals.TryAdd(control.Channel, tick);
                    else if (pedals.Remove(control.Channel, out var down)) Pedals.Add(new MidiPedal(track, control.Channel, down, tick));
                    break;
                case TimeSignatureEvent time when time.Numerator > 0 && time.Denominator is >= 0 and <= 10:
                    Metres.Add(new MidiMetre(tick, new TimeSignature(time.Numerator, 1 << time.Denominator)));
                    break;
                case TempoEvent tempo when tempo.MicrosecondsPerQuarterNote > 0:
                    Tempos.Add((tick, 60_000_000.0 / tempo.MicrosecondsPerQuarterNote));
                    break;
                case KeySignatureEvent signature when unchecked((sbyte)signature.SharpsFlats) is >= -7 and <= 7 and var sharps:
                    Keys.Add(new MidiKey(tick, sharps, signature.MajorMinor == 1));
                    break;
                case TextEvent text when Readable(text.Text) is { Length: > 0 } content:
                    if (text.MetaEventType == MetaEventType.SequenceTrackName) _names.TryAdd(track, content);
                    else if (text.MetaEventType is MetaEventType.Lyric or MetaEventType.Marker)
                        Texts.Add(new MidiText(track, tick, text.MetaEventType == MetaEventType.Lyric, content));
                    break;
            }
        }

        foreach (var (key, held) in pressed) Add(new MidiNote(track, key.Channel, key.Key, held.Start, last));
        foreach (var (channel, down) in pedals) Pedals.Add(new MidiPedal(track, channel, down, last));
    }

    // Sequencers leave bytes in their texts that no text holds.
    private static string Readable(string text) =>
        string.Concat(text.Where(c => !char.IsControl(c) && !char.IsSurrogate(c) && c < '\uFFFE')).Trim();

    private void Add(MidiNote note)
    {
        if (Notes.Count >= _maxNotes) throw new ScoreFormatException("The MIDI file has more notes than a score can have.");
        if (note.Key is >= 0 and <= 127) Notes.Add(note);
    }
}
