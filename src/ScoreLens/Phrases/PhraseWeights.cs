namespace ScoreLens.Phrases;

/// <summary>
/// How much each cue counts, as log odds, and how long phrases like to be. Set by reasoning from the grouping preference rules of
/// Lerdahl and Jackendoff (1983) and from what handbooks say of phrases: rests and marks most, then cadences, then
/// slurs, leaps, texture and parallels; four measures before eight, even numbers before odd ones.
/// </summary>
internal static class PhraseWeights
{
    /// <summary>How many harmonies a phrase has in the mean, before anything is known of the score.</summary>
    public const double UsualHarmonies = 11;

    private const double Threshold = 5.5;

    // A pause shows in several cues at once.
    private const double LongestPause = 4.5;

    private static readonly PhraseCue[] Pausing = [PhraseCue.Silence, PhraseCue.LeadGap, PhraseCue.LeadRest, PhraseCue.OtherGap];

    /// <summary>The odds of a place, from its cues alone.</summary>
    public static double Of(double[] cues)
    {
        double Cue(PhraseCue cue) => cues[(int)cue];
        var sum = -Threshold;
        for (var i = 0; i < cues.Length; i++)
        {
            if (cues[i] != 0 && !Pausing.Contains((PhraseCue)i)) sum += cues[i] * Of((PhraseCue)i);
        }

        // A cadence that arrives with something new opens a phrase as it closes one, and the slur that ends on it says nothing against.
        var elision = Cue(PhraseCue.AtAuthentic) * Math.Max(Cue(PhraseCue.Parallel), Cue(PhraseCue.Texture));
        return sum + Math.Min(Pause(cues), LongestPause) + (elision * 2) - (Cue(PhraseCue.AtAuthentic) * Cue(PhraseCue.UnderSlur) * Of(PhraseCue.UnderSlur));
    }

    /// <summary>Whether the music pauses before a place.</summary>
    public static bool Pauses(double[] cues) => Pause(cues) > LongestPause / 3;

    /// <summary>The odds of a phrase from its length alone.</summary>
    /// <param name="measures">Measures from its first downbeat to the next phrase's.</param>
    /// <param name="share">Its length against what is usual in the score.</param>
    public static double OfLength(double measures, double share)
    {
        var whole = (int)Math.Round(measures);
        var byMeasures = Math.Abs(measures - whole) > 0.01 ? -1.5 : whole switch
        {
            <= 0 => -6,
            1 => -2.5,
            2 => -0.8,
            3 => -1.2,
            4 => 0,
            5 => -1,
            6 => -0.7,
            7 => -1.2,
            8 => -0.3,
            10 or 12 or 16 => -1,
            _ => whole % 2 == 0 ? -1.2 : -1.6,
        };
        var away = Math.Log(share) / 0.5;
        return byMeasures - (away * away / 2);
    }

    private static double Pause(double[] cues) => Pausing.Sum(c => cues[(int)c] * Of(c));

    private static double Of(PhraseCue cue) => cue switch
    {
        PhraseCue.Silence => 2.5,
        PhraseCue.Fermata => 5,
        PhraseCue.Breath => 3.5,
        PhraseCue.Barline => 3.5,
        PhraseCue.LeadGap => 2.5,
        PhraseCue.LeadRest => 1.2,
        PhraseCue.LeadLeap => 0.5,
        PhraseCue.OtherGap => 1.5,
        PhraseCue.Together => 0.8,
        PhraseCue.Slur => 0.5,
        PhraseCue.UnderSlur => -1.5,
        PhraseCue.Held => -2,
        PhraseCue.AfterAuthentic => 4.5,
        PhraseCue.AtAuthentic => 2.5,
        PhraseCue.AfterHalf => 4,
        PhraseCue.Sentence => 4,
        PhraseCue.VerseLine => 1,
        PhraseCue.InsideText => -2,
        PhraseCue.StartsOnTonic => 0.4,
        PhraseCue.NoChange => -0.6,
        PhraseCue.NewKey => 0.5,
        PhraseCue.Parallel => 1.5,
        PhraseCue.Texture => 1,
        PhraseCue.Pickup => -1,
        PhraseCue.OffBeat => -0.7,
        _ => throw new ArgumentOutOfRangeException(nameof(cue), cue, "Unknown cue."),
    };
}
