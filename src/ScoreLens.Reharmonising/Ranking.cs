using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>
/// How alternatives are ranked: by what experts have at such places, melody, continuation, smoothness and balance, each 0..1, with the
/// weights of docs/reharmonising.md.
/// </summary>
internal static class Ranking
{
    private const double ExpertsWeight = 0.4, MelodyWeight = 0.15, ContinuationWeight = 0.15, SmoothnessWeight = 0.15,
        BalanceWeight = 0.15;

    // One in so many is as rare as counts: below it a chord has nothing for this part.
    private const double Rarest = 1000;

    // Four voices that move this far in all, six semitones each at most half of them, are as rough as it gets.
    private const double Roughest = 12;

    // What cannot be written into the score as it stands counts half, and so comes after what can.
    private const double NotWritable = 0.5;

    /// <summary>The score of an alternative, 0..1.</summary>
    /// <param name="experts">How often experts have the chord at places like this one, 0..1.</param>
    /// <param name="melody">Share of the melody's time that it carries.</param>
    /// <param name="resolution">How it goes on: resolved, or none where it is diatonic or may go on freely.</param>
    /// <param name="semitones">Motion of four voices to or from a neighbour in the mean.</param>
    /// <param name="band">The band that is wanted.</param>
    /// <param name="balance">What it does to the balance.</param>
    /// <param name="isWritable">Whether it can be written into the score.</param>
    public static double Score(double experts, double melody, Resolution resolution, double semitones, Band band,
        BalanceChange balance, bool isWritable)
    {
        var continuation = resolution switch
        {
            Resolution.Resolved => 1,
            Resolution.None => 0.8,
            Resolution.Delayed => 0.4,
            _ => 0,
        };
        // Half where nothing changes; to 1 as the phrase comes into the band, to 0 as it leaves it by as much.
        var gain = Distance(band, balance.PhraseBefore) - Distance(band, balance.PhraseAfter);
        var towards = Math.Clamp(0.5 + (4 * gain), 0, 1);
        var score = (ExpertsWeight * Often(experts)) + (MelodyWeight * melody) + (ContinuationWeight * continuation)
            + (SmoothnessWeight * Smooth(semitones)) + (BalanceWeight * towards);
        return Math.Round(isWritable ? score : NotWritable * score, 6);
    }

    /// <summary>How often experts have a chord as 0..1, by the logarithm: 1 for always, 0 for one in a thousand or less.</summary>
    public static double Often(double experts) => Math.Clamp(1 + (Math.Log(Math.Max(experts, 1 / Rarest)) / Math.Log(Rarest)), 0, 1);

    /// <summary>How smoothly it goes, 0..1, by the motion of four voices to or from a neighbour in the mean.</summary>
    public static double Smooth(double semitones) => 1 - Math.Min(1, semitones / Roughest);

    private static double Distance(Band band, Fraction share) =>
        share < band.Low ? (band.Low - share).ToDouble() : share > band.High ? (share - band.High).ToDouble() : 0;
}
