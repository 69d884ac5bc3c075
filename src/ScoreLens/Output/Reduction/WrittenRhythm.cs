using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Output.Reduction;

/// <summary>One printed note value.</summary>
/// <param name="Onset">Quarter notes from the start of the score.</param>
/// <param name="Duration">Quarter notes that it lasts.</param>
/// <param name="Type">MusicXML's note type; null where no note value has this length.</param>
/// <param name="Dots">Dots behind it.</param>
/// <param name="Tuplet">Notes in the time of how many; null outside tuplets.</param>
/// <param name="StartsTuplet">Whether the bracket of its tuplet starts here.</param>
/// <param name="EndsTuplet">Whether the bracket of its tuplet ends here.</param>
internal readonly record struct WrittenValue(
    Fraction Onset, Fraction Duration, string? Type, int Dots, (int Actual, int Normal)? Tuplet, bool StartsTuplet, bool EndsTuplet);

/// <summary>
/// Writes spans of a measure as note values: as few as the metre allows without hiding a stronger place inside a note, and tuplets
/// that fill their beat.
/// </summary>
internal sealed class WrittenRhythm
{
    // In quarter notes.
    private static readonly Fraction LongestStretch = 64;

    private static readonly string[] Types =
        ["breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th"];

    private readonly Measure _measure;
    private readonly Fraction _unit;
    private readonly SortedDictionary<long, int> _tuplets = [];

    /// <summary>Prepares a measure in which something begins or ends at the given times.</summary>
    public WrittenRhythm(Measure measure, IEnumerable<Fraction> cuts)
    {
        _measure = measure;
        _unit = measure.Time.IsFree ? Fraction.One : Fraction.Min(Fraction.One, measure.Time.BeatLength);
        foreach (var cut in cuts)
        {
            var place = (cut - measure.Start + measure.PickupOffset) / _unit;
            var odd = OddPart(place.Denominator);
            if (odd == 1) continue;
            var beat = place.Floor();
            _tuplets[beat] = (int)Math.Min(1000, Fraction.LeastCommonMultiple(_tuplets.GetValueOrDefault(beat, 1), odd));
        }
    }

    /// <summary>The note values of a span inside the measure, in order; they follow each other without gaps.</summary>
    public IReadOnlyList<WrittenValue> Values(Fraction start, Fraction end)
    {
        var values = new List<WrittenValue>();
        var at = start;
        foreach (var (beat, notes) in _tuplets)
        {
            var from = _measure.Start - _measure.PickupOffset + (_unit * (int)beat);
            var to = from + _unit;
            if (to <= at || from >= end) continue;
            if (from > at) Plain(values, at, from);
            var (inFrom, inTo) = (Fraction.Max(from, at), Fraction.Min(to, end));
            InTuplet(values, inFrom, inTo, from, to, notes);
            at = inTo;
        }

        if (at < end) Plain(values, at, end);
        return values;
    }

    // A span longer than any measure of a metre is cut into stretches first, so that the work grows with its length alone.
    private void Plain(List<WrittenValue> values, Fraction start, Fraction end)
    {
        var origin = _measure.Start - _measure.PickupOffset;
        for (var at = start; at < end;)
        {
            var next = end - at <= LongestStretch ? end : origin + (LongestStretch * (int)(((at - origin) / LongestStretch).Floor() + 1));
            Split(values, at, next);
            at = next;
        }
    }

    private void Split(List<WrittenValue> values, Fraction start, Fraction end)
    {
        var isValue = TryValue(end - start, out var type, out var dots);
        var split = SplitPoint(start, end);
        if ((isValue && (split is not { } inside || Weight(inside) <= Weight(start))) || split is null)
        {
            values.Add(new WrittenValue(start, end - start, isValue ? type : null, dots, null, false, false));
            return;
        }

        Split(values, start, split.Value);
        Split(values, split.Value, end);
    }

    private void InTuplet(List<WrittenValue> values, Fraction start, Fraction end, Fraction from, Fraction to, int actual)
    {
        var normal = 1;
        while (normal * 2 <= actual) normal *= 2;
        // A beat that the measure cuts short holds no whole tuplet: its lengths stand without a shape.
        var isWhole = from >= _measure.Start && to <= _measure.End;
        for (var at = start; at < end;)
        {
            var rest = end - at;
            var length = rest;
            if (isWhole && !TryValue(rest * new Fraction(actual, normal), out _, out _)) length =
                LongestValue(rest * new Fraction(actual, normal)) * new Fraction(normal, actual);
            var isValue = TryValue(length * new Fraction(actual, normal), out var type, out var dots) && isWhole;
            values.Add(new WrittenValue(
                at, length, isValue ? type : null, isValue ? dots : 0, isValue ? (actual, normal) : null, isValue && at == from, isValue
                    && at + length == to));
            at += length;
        }
    }

    // The strongest place inside a span; of several the last.
    private Fraction? SplitPoint(Fraction start, Fraction end)
    {
        var step = Fraction.One;
        while (step < _measure.Length) step *= 2;
        var pulse = _measure.Time.PulseLength;
        if (Strongest(pulse) is { } onPulse) return onPulse;
        for (; step.Denominator <= 256; step /= 2)
            if (Strongest(step) is { } place) return place;
        return null;

        Fraction? Strongest(Fraction grid)
        {
            Fraction? best = null;
            var origin = _measure.Start - _measure.PickupOffset;
            for (var at = origin + (grid * (int)(((start - origin) / grid).Floor() + 1)); at < end; at += grid)
                if (best is not { } known || Weight(at) >= Weight(known)) best = at;
            return best;
        }
    }

    private double Weight(Fraction onset) => SonorityFinder.Weight(_measure, onset);

    private static bool TryValue(Fraction length, out string type, out int dots)
    {
        for (dots = 0; dots <= 1; dots++)
        {
            foreach (var name in Types)
            {
                type = name;
                if (NoteLengths.Dotted(NoteLengths.OfType(name)!.Value, dots) == length) return true;
            }
        }

        (type, dots) = ("", 0);
        return false;
    }

    private static Fraction LongestValue(Fraction room)
    {
        foreach (var name in Types)
            if (NoteLengths.OfType(name)!.Value is var length && length < room) return length;
        return room;
    }

    private static long OddPart(long number)
    {
        while (number % 2 == 0) number /= 2;
        return number;
    }
}
