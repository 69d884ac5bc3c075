using ScoreLens.Notation;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Finds the key of a cue as a whole: where most of it stands, with the first and the last chord and the signature in favour of their own.
/// </summary>
internal static class HomeKeys
{
    public static Key Of(IReadOnlyList<ChordReading> chords, Score score, ReadingSettings settings)
    {
        var named = chords.Where(c => c.Numeral is not null).ToArray();
        var total = named.Sum(c => c.Duration.ToDouble());
        return named.GroupBy(c => c.Key).MaxBy(g =>
            (g.Sum(c => c.Duration.ToDouble()) / total)
            + (g.Key == named[^1].Key ? settings.LastChordForHome : 0)
            + (g.Key == named[0].Key ? settings.FirstChordForHome : 0)
            + (g.Key.Signature == score.Measures[0].Signature ? settings.SignatureForHome : 0))!.Key;
    }
}
