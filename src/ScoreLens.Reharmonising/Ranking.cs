using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// How alternatives are ranked: by melody, continuation, smoothness and balance, each 0..1, with the weights of docs/reharmonising.md.
/// </summary>
internal static class Ranking
{
    private const double MelodyWeight = 0.35, ContinuationWeight = 0.2, SmoothnessWeight = 0.25, BalanceWeight = 0.2;

    // Four voices that move this far in all, six semitones each at most half of them, are as rough as it gets.
    private const double Roughest = 12;

    // What cannot be written into the score as it stands comes after what can.
    private const double NotWritable = 0.15;

    /// <summary>The score of an alternative, 0..1.</summary>
    /// <param name="melody">Share of the melody's time that it carries.</param>
    /// <param name="resolution">How it goes on: resolved, or none where it is diatonic or may go on freely.</param>
    /// <param name="semitones">Motion of four voices to or from a neighbour in the mean.</param>
    /// <param name="band">The band that is wanted.</param>
    /// <param name="balance">What it does to the balance.</param>
    /// <param name="isWritable">Whether it can be written into the score.</param>
    public static double Score(double melody, Resolution resolution, double semitones, Band band, BalanceChange balance, bool isWritable)
    {
        var continuation = resolution == Resolution.Resolved ? 1 : 0.8;
        var smoothness = 1 - Math.Min(1, semitones / Roughest);
        // Half where nothing changes; to 1 as the phrase comes into the band, to 0 as it leaves it by as much.
        var gain = Distance(band, balance.PhraseBefore) - Distance(band, balance.PhraseAfter);
        var towards = Math.Clamp(0.5 + (4 * gain), 0, 1);
        var score = (MelodyWeight * melody) + (ContinuationWeight * continuation) + (SmoothnessWeight * smoothness)
            + (BalanceWeight * towards);
        return Math.Round(isWritable ? score : Math.Max(0, score - NotWritable), 6);
    }

    private static double Distance(Band band, Fraction share) =>
        share < band.Low ? (band.Low - share).ToDouble() : share > band.High ? (share - band.High).ToDouble() : 0;
}
