using ScoreLens.Keys;
using ScoreLens.Theory;

namespace ScoreLens.Density;

/// <summary>Shares of the time outside the key, 0..1, of one cue under the rules of keys.</summary>
/// <param name="Touch">Where every key that is touched counts.</param>
/// <param name="Chosen">By the rule that the cue was read with.</param>
/// <param name="Phrase">Where only the keys of whole phrases count.</param>
public sealed record SharesByKeys(Fraction Touch, Fraction Chosen, Fraction Phrase)
{
    // Less than this is within what two experts differ by (1 to 6 points in the evaluation corpus, see docs/method.md).
    private static readonly Fraction Notable = new(1, 20);

    /// <summary>Whether the rule matters: two of the shares are more than five points apart.</summary>
    public bool Differ => Fraction.Max(Touch, Fraction.Max(Chosen, Phrase)) - Fraction.Min(Touch, Fraction.Min(Chosen, Phrase)) > Notable;

    /// <summary>The shares of an analysed score.</summary>
    public static SharesByKeys Of(CueAnalysis analysis)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        return new SharesByKeys(Share(KeyRule.Touch), Share(analysis.Keys), Share(KeyRule.Phrase));

        Fraction Share(KeyRule rule) => CueDensity.Of(analysis.Under(rule), Band.Default).Whole.OutsideTime;
    }
}
