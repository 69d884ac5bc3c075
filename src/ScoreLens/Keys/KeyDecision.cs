using ScoreLens.Reading;

namespace ScoreLens.Keys;

/// <summary>Decides which of the keys that were heard are keys, and which are degrees of the key around them.</summary>
internal static class KeyDecision
{
    /// <summary>The chords in the keys that a rule lets count.</summary>
    /// <param name="chords">The chords in order, each in the key that is heard.</param>
    /// <param name="rule">When a key counts as new.</param>
    /// <param name="context">What else may be looked at.</param>
    public static IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, KeyRule rule, KeyContext context) => rule switch
    {
        KeyRule.Touch => chords,
        KeyRule.Confirm => Tonicisations.TakeBack(chords, context),
        KeyRule.Phrase => PhraseKeys.TakeBack(Tonicisations.TakeBack(chords, context), context),
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "Unknown rule."),
    };
}
