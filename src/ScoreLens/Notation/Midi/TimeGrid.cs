using ScoreLens.Theory;

namespace ScoreLens.Notation.Midi;

/// <summary>
/// Lays ticks on a grid, quarter note by quarter note: of the divisions into 1, 2, 3, 4, 6 … parts the one that lies
/// nearest to the onsets in that quarter, where a finer one must lie nearer by more than chance. What lies on a grid to the
/// tick, as notation programs export it, is left where it is.
/// </summary>
internal sealed class TimeGrid
{
    // What a division costs, in quarter notes of error: a performer's timing strays by less, a written rhythm by more.
    private static readonly (int Parts, double Cost)[] Divisions =
        [(1, 0), (2, 0.01), (3, 0.015), (4, 0.02), (6, 0.03), (8, 0.06), (12, 0.08), (5, 0.09), (7, 0.1), (16, 0.11)];

    private static readonly int[] Usual = [1, 2, 3, 4, 6, 8, 12], Fine = [5, 7, 9, 10, 16, 24, 32];

    private readonly int _ticksPerQuarter;
    private readonly Dictionary<long, int> _parts = [];
    private readonly bool _isWritten;

    private TimeGrid(int ticksPerQuarter, IReadOnlyList<MidiNote> notes)
    {
        _ticksPerQuarter = ticksPerQuarter;
        // Where nearly every onset lies on a usual grid to the tick, the file was written, not played.
        _isWritten = notes.Count(n => Usual.Any(d => IsExact(n.Start % ticksPerQuarter, d))) >= 0.9 * notes.Count;
    }

    public static TimeGrid Of(IReadOnlyList<MidiNote> notes, int ticksPerQuarter)
    {
        var grid = new TimeGrid(ticksPerQuarter, notes);
        foreach (var quarter in notes.Select(n => n.Start).Distinct().GroupBy(t => t / ticksPerQuarter))
            grid._parts[quarter.Key] = grid.Best([.. quarter.Select(t => t % ticksPerQuarter)]);
        return grid;
    }

    /// <summary>The grid's time nearest to a tick, in quarter notes; sixteenths where no note begins in that quarter.</summary>
    public Fraction Snap(long tick)
    {
        var quarter = tick / _ticksPerQuarter;
        var parts = _parts.GetValueOrDefault(quarter, 4);
        return new Fraction(quarter) + new Fraction(Nearest(tick % _ticksPerQuarter, parts), parts);
    }

    /// <summary>Whether a tick lies on a usual grid of a file that was written, not played, so that it means what it says.</summary>
    public bool IsWritten(long tick) => _isWritten && Array.Exists(Usual, parts => _ticksPerQuarter % parts == 0
        && IsExact(tick % _ticksPerQuarter, parts));

    /// <summary>The time of a tick, not laid on the grid.</summary>
    public Fraction At(long tick) => new(tick, _ticksPerQuarter);

    private long Nearest(long within, int parts) => ((2 * within * parts) + _ticksPerQuarter) / (2L * _ticksPerQuarter);

    private int Best(long[] onsets)
    {
        foreach (var parts in _isWritten ? Usual.Concat(Fine) : Usual)
            if (Array.TrueForAll(onsets, t => IsExact(t, parts))) return parts;
        return Divisions.MinBy(d => onsets.Max(t => Error(t, d.Parts)) + d.Cost).Parts;
    }

    // To the tick; where the clock does not divide by the grid, to the nearest tick, if that says anything at all.
    private bool IsExact(long within, int parts) =>
        _ticksPerQuarter % parts == 0
            ? within % (_ticksPerQuarter / parts) == 0
            : _ticksPerQuarter >= 8 * parts && Error(within, parts) * _ticksPerQuarter <= 1;

    private double Error(long within, int parts) =>
        Math.Abs(((double)within / _ticksPerQuarter) - ((double)Nearest(within, parts) / parts));
}
