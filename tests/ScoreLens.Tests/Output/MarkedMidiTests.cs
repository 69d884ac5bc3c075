using System.Buffers.Binary;
using ScoreLens.Notation;
using ScoreLens.Output.Annotation;
using ScoreLens.Output.Midi;
using Xunit;

namespace ScoreLens.Tests.Output;

/// <summary>Labels of a MIDI file are markers in a track of their own; everything else keeps its bytes (Standard MIDI Files 1.0).</summary>
public sealed class MarkedMidiTests
{
    private static readonly byte[] Original = MidiWriter.Write(ScoreFile.Load(Path.Combine(Places.TestData,
        "lamplight.musicxml")).Score, 480);

    [Fact]
    public void Markers_stand_behind_the_other_tracks_which_keep_their_bytes()
    {
        var file = ScoreFile.Parse(Original);
        var analysis = CueAnalysis.Of(file.Score);
        var marked = MarkedMidi.Write(file.Midi.Span, analysis, LabelOptions.Default)!;
        Assert.Equal(Original[14..], marked[14..Original.Length]);
        Assert.Equal(1, BinaryPrimitives.ReadUInt16BigEndian(marked.AsSpan(8)));
        Assert.Equal(BinaryPrimitives.ReadUInt16BigEndian(Original.AsSpan(10)) + 1,
            BinaryPrimitives.ReadUInt16BigEndian(marked.AsSpan(10)));
        Assert.Equal(Original, MarkedMidi.Strip(marked));
        var again = ScoreFile.Parse(marked);
        Assert.Empty(again.Warnings);
        Assert.Equal(file.Score.Notes, again.Score.Notes);
        Assert.Equal(file.Score.Texts, again.Score.Texts);
        Assert.Equal(marked, MarkedMidi.Write(marked, CueAnalysis.Of(again.Score), LabelOptions.Default));
    }

    [Fact]
    public void A_marker_stands_at_the_tick_of_its_chord()
    {
        var file = ScoreFile.Parse(Original);
        var analysis = CueAnalysis.Of(file.Score);
        var marked = MarkedMidi.Write(file.Midi.Span, analysis, new LabelOptions { Labels = LabelKinds.Numerals })!;
        var events = new NAudio.Midi.MidiFile(new MemoryStream(marked), strictChecking: true).Events;
        var markers = events[events.Tracks - 1].OfType<NAudio.Midi.TextEvent>().Where(t =>
            t.MetaEventType == NAudio.Midi.MetaEventType.Marker)
            .Select(t => $"{t.AbsoluteTime} {t.Text}");
        Assert.Equal(
            analysis.Chords.Where(c => c.Reading.Numeral is not null).Select(c => $"{(c.Reading.Onset * 480).Floor()} {c.Reading.Numeral}"
                .Replace("\u00f8", "\u00c3\u00b8", StringComparison.Ordinal)),
            markers.Select(m => m));
    }

    [Fact]
    public void A_file_of_type_0_becomes_one_of_type_1_and_comes_back()
    {
        byte[] body = [0x00, 0x90, 60, 80, 0x60, 0x80, 60, 0, 0x00, 0xFF, 0x2F, 0x00];
        byte[] single = [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, .. "MTrk"u8, 0, 0, 0, (byte)body.Length, .. body];
        var file = ScoreFile.Parse(single);
        var marked = MarkedMidi.Write(file.Midi.Span, CueAnalysis.Of(file.Score), LabelOptions.Default)!;
        Assert.Equal(1, marked[9]);
        Assert.Equal(single, MarkedMidi.Strip(marked));
    }

    [Fact]
    public void A_track_that_runs_past_the_end_is_read_with_a_warning_and_takes_no_markers()
    {
        byte[] body = [0x00, 0x90, 60, 80, 0x60, 0x80, 60, 0];
        byte[] cut = [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, .. "MTrk"u8, 0, 0, 0, (byte)(body.Length + 20), .. body];
        var file = ScoreFile.Parse(cut);
        Assert.Single(file.Score.Notes);
        Assert.Contains("runs 20 bytes past the file's end", Assert.Single(file.Warnings).ToDisplayString(), StringComparison.Ordinal);
        Assert.Null(MarkedMidi.Write(cut, CueAnalysis.Of(file.Score), LabelOptions.Default));
    }
}
