using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// Where notes end: players and programs release a key a little before the next one. An end that lies close before the
/// next onset of its part is meant to reach it; any other is laid on the grid. The sustain pedal holds a note until it is
/// lifted, at most to the end of the measure.
/// </summary>
internal sealed class NoteEnds
{
    private readonly TimeGrid _grid;
    private readonly MidiTracks _file;
    private readonly Dictionary<(int Track, int Channel), long[]> _onsets;
    private readonly Dictionary<(int Track, int Channel), MidiPedal[]> _pedals;
    private readonly Dictionary<(int Track, int Channel, int Key), long[]> _again;

    public NoteEnds(TimeGrid grid, MidiTracks file, IReadOnlyList<MidiNote> notes)
    {
        (_grid, _file) = (grid, file);
        _onsets = notes.GroupBy(n => (n.Track, n.Channel))
            .ToDictionary(g => g.Key, g => g.Select(n => n.Start).Distinct().Order().ToArray());
        _again = notes.GroupBy(n => (n.Track, n.Channel, n.Key))
            .ToDictionary(g => g.Key, g => g.Select(n => n.Start).Order().ToArray());
        _pedals = file.Pedals.GroupBy(p => (p.Track, p.Channel)).ToDictionary(g => g.Key, g => g.OrderBy(p => p.Down).ToArray());
    }

    /// <summary>The end in quarter notes, after the onset.</summary>
    public Fraction End(MidiNote note)
    {
        var onset = _grid.Snap(note.Start);
        var released = Held(note);
        var next = Next(_onsets[(note.Track, note.Channel)], note.Start);
        // An end on the grid of a written file is meant, unless it is a touch before what follows.
        if (_grid.IsWritten(released) && _grid.At(released) > onset
            && !(next > released && next - released <= _file.TicksPerQuarter / 8))
        {
            return _grid.At(released);
        }

        // A tenth of the note, or a thirty-second, is articulation.
        var slack = Math.Max(_file.TicksPerQuarter / 8, (released - note.Start) / 7);
        var end = next is { } n && Math.Abs(n - released) <= slack ? _grid.Snap(n) : _grid.Snap(released);
        if (end > onset) return end;
        // Shorter than the grid: to the next onset, at most a sixteenth.
        var shortest = onset + new Fraction(1, 4);
        return next is { } later && _grid.Snap(later) > onset ? Fraction.Min(_grid.Snap(later), shortest) : shortest;
    }

    private long Held(MidiNote note)
    {
        if (!_pedals.TryGetValue((note.Track, note.Channel), out var pedals)) return note.End;
        var place = LastBefore(pedals, note.End);
        if (place < 0 || pedals[place].Up <= note.End) return note.End;
        var bar = MidiMeasures.BarAfter(_file, note.End);
        var held = Math.Min(pedals[place].Up, Math.Max(bar, note.End));
        return Next(_again[(note.Track, note.Channel, note.Key)], note.Start) is { } again
            ? Math.Min(held, Math.Max(again, note.Start + 1)) : held;
    }

    private static int LastBefore(MidiPedal[] pedals, long tick)
    {
        int low = -1, high = pedals.Length - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (pedals[middle].Down <= tick) low = middle;
            else high = middle - 1;
        }

        return low;
    }

    private static long? Next(long[] sorted, long after)
    {
        var place = Array.BinarySearch(sorted, after);
        place = place < 0 ? ~place : place + 1;
        while (place < sorted.Length && sorted[place] <= after) place++;
        return place < sorted.Length ? sorted[place] : null;
    }
}
