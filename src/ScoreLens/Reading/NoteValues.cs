using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading;

/// <summary>
/// The same music may be written in halves, in quarters or in eighths: "the note value of the beat is a convention of notation" (common
/// practice). A score is read in the values in which the beat that most of it has is a quarter, or a dotted quarter in compound metre.
/// </summary>
internal static class NoteValues
{
    /// <summary>By what the score's times are multiplied to be in usual note values: a power of two.</summary>
    public static Fraction FactorOf(Score score)
    {
        var beats = score.Measures.Where(m => !m.Time.IsFree).GroupBy(m => Beat(m.Time)).ToArray();
        if (beats.Length == 0) return Fraction.One;
        var beat = beats.MaxBy(g => (g.Sum(m => m.Length.ToDouble()), g.Key))!.Key;
        var factor = Fraction.One;
        for (; beat * factor >= 2; factor /= 2) ;
        for (; beat * factor < 1; factor *= 2) ;
        return factor;
    }

    /// <summary>A score with its times multiplied by a power of two, and its metres with them.</summary>
    public static Score Times(Score score, Fraction factor) => factor == Fraction.One ? score : score with
    {
        Measures = [.. score.Measures.Select(m => m with
        {
            Start = m.Start * factor,
            Length = m.Length * factor,
            PickupOffset = m.PickupOffset * factor,
            Time = Times(m.Time, factor),
        })],
        Notes = [.. score.Notes.Select(n => n with { Onset = n.Onset * factor, Duration = n.Duration * factor })],
        Rests = [.. score.Rests.Select(r => r with { Onset = r.Onset * factor, Duration = r.Duration * factor })],
        Texts = [.. score.Texts.Select(t => t with { Onset = t.Onset * factor, Extends = t.Extends * factor })],
        ChordSymbols = [.. score.ChordSymbols.Select(s => s with { Onset = s.Onset * factor })],
        Tempos = [.. score.Tempos.Select(t => t with { Onset = t.Onset * factor })],
    };

    /// <summary>Chords of a reading with their times multiplied.</summary>
    public static IReadOnlyList<ChordReading> Times(IReadOnlyList<ChordReading> chords, Fraction factor) => factor == Fraction.One ? chords
        : [.. chords.Select(c => c with { Onset = c.Onset * factor, Duration = c.Duration * factor })];

    // A whole note as the unit cannot be doubled: the measure then holds as many more units.
    private static TimeSignature Times(TimeSignature time, Fraction factor)
    {
        for (; factor < 1; factor *= 2) time = time with { BeatType = time.BeatType * 2 };
        for (; factor > 1 && time.BeatType % 2 == 0; factor /= 2) time = time with { BeatType = time.BeatType / 2 };
        return time with { Beats = time.Beats * (int)factor.Floor() };
    }

    private static Fraction Beat(TimeSignature time) =>
        time.BeatLength * (time.Beats > 3 && time.Beats % 3 == 0 && (time.Grouping is null || time.Groups.All(g => g == 3)) ? 3 : 1);
}
