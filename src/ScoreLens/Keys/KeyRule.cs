using System.Diagnostics.CodeAnalysis;

namespace ScoreLens.Keys;

/// <summary>
/// When a key counts as new. Handbooks agree that a key which is only touched is a tonicisation and one that is confirmed a modulation, but
/// not on where the border lies: Aldwell and Schachter hear long spans in one key, Kostka and Payne ask whether the ear accepts a new tonic
/// (both from memory).
/// </summary>
public enum KeyRule
{
    /// <summary>A key is new as soon as its own chords are heard, however soon it is left.</summary>
    Touch,

    /// <summary>
    /// A key is new where it stays or where a phrase closes in it; one that is left at once and returned from is a tonicisation. What most
    /// experts of the corpus do, and the default.
    /// </summary>
    Confirm,

    /// <summary>A key is new only where it holds for a phrase, or closes one that it has held for half its length.</summary>
    Phrase,
}

/// <summary>The rules' names, as the command line and the tables write them.</summary>
public static class KeyRuleNames
{
    /// <summary><c>touch</c>, <c>confirm</c> or <c>phrase</c>.</summary>
    public static string Name(this KeyRule rule) => rule switch
    {
        KeyRule.Touch => "touch",
        KeyRule.Confirm => "confirm",
        KeyRule.Phrase => "phrase",
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "Unknown rule."),
    };

    /// <summary>Reads a name that <see cref="Name"/> writes; false for any other text.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out KeyRule rule)
    {
        foreach (var known in Enum.GetValues<KeyRule>())
        {
            if (known.Name() != text) continue;
            rule = known;
            return true;
        }

        rule = KeyRule.Confirm;
        return false;
    }
}
