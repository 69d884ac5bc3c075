using ScoreLens.Density;

namespace ScoreLens.Wording;

/// <summary>What is said of the rules of keys.</summary>
public static class KeysText
{
    /// <summary>
    /// How much lies outside the key under the two other ways of counting keys: <c>counting every key that is touched: 12 %; counting only
    /// the keys of whole phrases: 24 %</c>.
    /// </summary>
    public static string Shares(SharesByKeys shares)
    {
        ArgumentNullException.ThrowIfNull(shares);
        return $"counting every key that is touched: {ShareText.Percent(shares.Touch)}; "
            + $"counting only the keys of whole phrases: {ShareText.Percent(shares.Phrase)}";
    }
}
