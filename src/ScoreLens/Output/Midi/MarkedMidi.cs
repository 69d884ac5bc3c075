using System.Buffers.Binary;
using System.Text;
using ScoreLens.Notation.Midi;
using ScoreLens.Output.Annotation;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Output.Midi;

/// <summary>
/// Writes an analysis into a Standard MIDI File as markers, in a track of their own behind the others, and takes it out again. The bytes of
/// every other track stay as they are; a file of type 0 becomes one of type 1, since it holds one track only.
/// </summary>
public static class MarkedMidi
{
    private const int HeadLength = 8;

    // Kinds of meta events (Standard MIDI Files 1.0).
    private const byte Text = 0x01, Name = 0x03, Marker = 0x06;

    /// <summary>The file with a marker for every chord, at its tick: key where it starts, numeral, device.</summary>
    /// <param name="midi">The bytes of the file that the score was read from.</param>
    /// <param name="analysis">The analysis.</param>
    /// <param name="options">Which labels; as what and where they go is the file's own business.</param>
    /// <returns>The bytes; null where the file is damaged or lies in another container, so that nothing can be added without changing
    /// it.</returns>
    public static byte[]? Write(ReadOnlySpan<byte> midi, CueAnalysis analysis, LabelOptions options)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(options);
        if (Strip(midi) is not { } bare) return null;
        var ticks = BinaryPrimitives.ReadUInt16BigEndian(bare.AsSpan(12));
        var type = BinaryPrimitives.ReadUInt16BigEndian(bare.AsSpan(8));
        var track = Track([.. Markers(analysis, options)], ticks, type);
        var written = new byte[bare.Length + HeadLength + track.Length];
        bare.CopyTo(written, 0);
        "MTrk"u8.CopyTo(written.AsSpan(bare.Length));
        BinaryPrimitives.WriteUInt32BigEndian(written.AsSpan(bare.Length + 4), (uint)track.Length);
        track.CopyTo(written, bare.Length + HeadLength);
        var tracks = BinaryPrimitives.ReadUInt16BigEndian(written.AsSpan(10));
        BinaryPrimitives.WriteUInt16BigEndian(written.AsSpan(8), 1);
        BinaryPrimitives.WriteUInt16BigEndian(written.AsSpan(10), (ushort)(tracks + 1));
        return written;
    }

    /// <summary>The file without our markers: the same bytes but for the header's count, where it had none; null where it is
    /// damaged.</summary>
    public static byte[]? Strip(ReadOnlySpan<byte> midi)
    {
        if (!midi.StartsWith("MThd"u8) || midi.Length < 14) return null;
        var kept = new List<byte>(midi[..14].ToArray());
        var at = HeadLength + (long)BinaryPrimitives.ReadUInt32BigEndian(midi[4..]);
        if (at > midi.Length || at != 14) return null;
        var own = 0;
        Span<byte> type = [midi[8], midi[9]];
        while (at < midi.Length)
        {
            if (at + HeadLength > midi.Length) return null;
            var length = BinaryPrimitives.ReadUInt32BigEndian(midi[(int)(at + 4)..]);
            if (at + HeadLength + length > midi.Length) return null;
            var chunk = midi.Slice((int)at, (int)(HeadLength + length));
            if (IsOwn(chunk))
            {
                own++;
                if (chunk.IndexOf(Meta(0, Text, TypeText(0))) >= 0) BinaryPrimitives.WriteUInt16BigEndian(type, 0);
            }
            else
            {
                kept.AddRange(chunk);
            }

            at += chunk.Length;
        }

        var bytes = kept.ToArray();
        var tracks = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(10));
        type.CopyTo(bytes.AsSpan(8));
        if (own > 0) BinaryPrimitives.WriteUInt16BigEndian(bytes.AsSpan(10), (ushort)(tracks - own));
        return bytes;
    }

    // Our track begins with its name at tick 0.
    private static bool IsOwn(ReadOnlySpan<byte> chunk) =>
        chunk.StartsWith("MTrk"u8) && chunk[HeadLength..].StartsWith(Meta(0, Name, MidiTracks.OwnTrack));

    private static string TypeText(int type) => $"type {type}";

    private static IEnumerable<(Fraction Onset, string Text)> Markers(CueAnalysis analysis, LabelOptions options)
    {
        Key? key = null;
        var pedals = analysis.Pedals.ToLookup(p => p.Start);
        foreach (var chord in analysis.Chords)
        {
            if (chord.Reading.Numeral is not { } numeral) continue;
            var parts = new List<string>();
            if (options.Labels.HasFlag(LabelKinds.Keys) && chord.Reading.Key != key) parts.Add($"{chord.Reading.Key}:");
            key = chord.Reading.Key;
            if (options.Labels.HasFlag(LabelKinds.Numerals)) parts.Add(numeral.ToString());
            if (options.Labels.HasFlag(LabelKinds.Symbols)) parts.Add($"({ChordName.Of(chord.Reading.Key, numeral)})");
            if (options.Labels.HasFlag(LabelKinds.Devices) && chord.Device is { } device) parts.Add(DevicePalette.Of(device).Label);
            if (options.Labels.HasFlag(LabelKinds.Devices))
                parts.AddRange(pedals[chord.Reading.Onset].Select(PedalText.Label).Distinct());
            if (parts.Count > 0) yield return (chord.Reading.Onset, string.Join(' ', parts));
        }
    }

    private static byte[] Track(IReadOnlyList<(Fraction Onset, string Text)> markers, int ticks, int type)
    {
        // The type that the file had, for the way back.
        var bytes = new List<byte>([.. Meta(0, Name, MidiTracks.OwnTrack), .. Meta(0, Text, TypeText(type))]);
        long before = 0;
        foreach (var (onset, text) in markers)
        {
            var tick = ((onset * ticks) + new Fraction(1, 2)).Floor();
            bytes.AddRange(Meta(tick - before, Marker, text));
            before = tick;
        }

        bytes.AddRange((byte[])[0x00, 0xFF, 0x2F, 0x00]);
        return [.. bytes];
    }

    private static byte[] Meta(long delta, byte type, string text)
    {
        var content = Encoding.UTF8.GetBytes(text);
        return [.. Length(delta), 0xFF, type, .. Length(content.Length), .. content];
    }

    // A variable-length quantity, seven bits a byte (Standard MIDI Files 1.0).
    private static Stack<byte> Length(long value)
    {
        var bytes = new Stack<byte>();
        bytes.Push((byte)(value & 0x7F));
        for (value >>= 7; value > 0; value >>= 7) bytes.Push((byte)((value & 0x7F) | 0x80));
        return bytes;
    }
}
