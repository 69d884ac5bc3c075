using ScoreLens.Notation;

namespace ScoreLens.Reharmonising.Voicing;

/// <summary>How low and how high the parts of a score may be written: what each plays there, and what its instrument can.</summary>
internal sealed class PartRanges
{
    // Of an instrument that the table does not know, so many semitones beyond what it plays.
    private const int Unknown = 3;

    private readonly (int Low, int High, int OwnLow, int OwnHigh)[] _parts;

    private PartRanges((int, int, int, int)[] parts) => _parts = parts;

    /// <summary>The ranges of a score's parts.</summary>
    public static PartRanges Of(Score score)
    {
        var own = new (int Low, int High)[score.Parts.Count];
        Array.Fill(own, (int.MaxValue, int.MinValue));
        foreach (var note in score.Notes)
            own[note.Part] = (Math.Min(own[note.Part].Low, note.Pitch.Midi), Math.Max(own[note.Part].High, note.Pitch.Midi));
        return new PartRanges([.. score.Parts.Select(p =>
        {
            var (low, high) = own[p.Index];
            return InstrumentRange.Of(p.Name) is { } range
                ? (Math.Min(low, range.Lowest.Midi), Math.Max(high, range.Highest.Midi), low, high)
                : (low - Unknown, high + Unknown, low, high);
        })]);
    }

    /// <summary>The lowest and the highest note that a part may have, in MIDI's count.</summary>
    public (int Low, int High) Of(int part) => (_parts[part].Low, _parts[part].High);

    /// <summary>How many semitones a note lies beyond what the part plays elsewhere; 0 inside.</summary>
    public int Beyond(int part, int midi) => Math.Max(0, Math.Max(_parts[part].OwnLow - midi, midi - _parts[part].OwnHigh));
}
