using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Marking.Alignment;

/// <summary>What stands in a stretch of a score, a measure as a rule, to compare it by.</summary>
/// <param name="Number">The printed number of the measure that it begins in.</param>
/// <param name="Start">Where it begins, in quarter notes.</param>
/// <param name="Length">Its length in quarter notes.</param>
/// <param name="Notes">What is struck in it: the time from its start, and the sounding pitch.</param>
internal sealed record MeasureContent(string Number, Fraction Start, Fraction Length, IReadOnlyList<(Fraction Offset, int Midi)> Notes)
{
    private readonly HashSet<(Fraction, int)> _set = [.. Notes];

    /// <summary>Whether a pitch is struck at a time from the start.</summary>
    public bool Has(Fraction offset, int midi) => _set.Contains((offset, midi));

    /// <summary>Cuts notes into stretches.</summary>
    public static IReadOnlyList<MeasureContent> Of(
        IEnumerable<(string Number, Fraction Start, Fraction Length)> stretches, IReadOnlyCollection<SoundingNote> notes) =>
    [
        .. stretches.Select(s => new MeasureContent(
            s.Number, s.Start, s.Length,
            [.. notes.Where(n => n.Onset >= s.Start && n.Onset < s.Start + s.Length).Select(n => (n.Onset - s.Start, n.Pitch.Midi))
                .Distinct()])),
    ];
}
