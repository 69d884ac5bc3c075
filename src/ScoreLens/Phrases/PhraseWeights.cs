using ScoreLens.Grouping;

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

    private static readonly GroupingCue[] Pausing = [GroupingCue.Silence, GroupingCue.LeadGap, GroupingCue.LeadRest, GroupingCue.OtherGap];

    /// <summary>The odds of a place, from its cues alone.</summary>
    public static double Of(PhraseStart start)
    {
        double Grouping(GroupingCue cue) => start.Grouping[(int)cue];
        var sum = -Threshold;
        for (var i = 0; i < start.Grouping.Length; i++)
            if (start.Grouping[i] != 0 && !Pausing.Contains((GroupingCue)i)) sum += start.Grouping[i] * Of((GroupingCue)i);
        for (var i = 0; i < start.Cues.Length; i++)
            if (start.Cues[i] != 0) sum += start.Cues[i] * Of((PhraseCue)i);

        // A cadence that arrives with something new opens a phrase as it closes one, and the slur that ends on it says nothing against.
        var arrival = start.Cues[(int)PhraseCue.AtAuthentic];
        var elision = arrival * Math.Max(Grouping(GroupingCue.Parallel), Grouping(GroupingCue.Texture));
        return sum + Math.Min(Pause(start), LongestPause)
            + (elision * 2) - (arrival * Grouping(GroupingCue.UnderSlur) * Of(GroupingCue.UnderSlur));
    }

    /// <summary>Whether the music pauses before a place.</summary>
    public static bool Pauses(PhraseStart start) => Pause(start) > LongestPause / 3;

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

    private static double Pause(PhraseStart start) => Pausing.Sum(c => start.Grouping[(int)c] * Of(c));

    private static double Of(GroupingCue cue) => cue switch
    {
        GroupingCue.Silence => 2.5,
        GroupingCue.Fermata => 5,
        GroupingCue.Breath => 3.5,
        GroupingCue.Barline => 3.5,
        GroupingCue.LeadGap => 2.5,
        GroupingCue.LeadRest => 1.2,
        GroupingCue.LeadLeap => 0.5,
        GroupingCue.OtherGap => 1.5,
        GroupingCue.Together => 0.8,
        GroupingCue.Slur => 0.5,
        GroupingCue.UnderSlur => -1.5,
        GroupingCue.Held => -2,
        GroupingCue.Sentence => 4,
        GroupingCue.VerseLine => 1,
        GroupingCue.InsideText => -2,
        GroupingCue.Parallel => 1.5,
        GroupingCue.Texture => 1,
        _ => throw new ArgumentOutOfRangeException(nameof(cue), cue, "Unknown cue."),
    };

    private static double Of(PhraseCue cue) => cue switch
    {
        PhraseCue.AfterAuthentic => 4.5,
        PhraseCue.AtAuthentic => 2.5,
        PhraseCue.AfterHalf => 4,
        PhraseCue.StartsOnTonic => 0.4,
        PhraseCue.NoChange => -0.6,
        PhraseCue.NewKey => 0.5,
        PhraseCue.Pickup => -1,
        PhraseCue.OffBeat => -0.7,
        _ => throw new ArgumentOutOfRangeException(nameof(cue), cue, "Unknown cue."),
    };
}
