using ScoreLens.Theory;

namespace ScoreLens.TestKit.Truth;

/// <summary>One thing that a sentence says of the notes.</summary>
internal abstract record Claim
{
    /// <summary>A tone is named, and so must sound.</summary>
    internal sealed record Named(Tone Tone) : Claim;

    /// <summary>A tone is named that the score's own chord symbol has.</summary>
    internal sealed record InSymbol(Tone Tone) : Claim;

    /// <summary>A tone rises or falls to another.</summary>
    internal sealed record Moves(Tone From, bool Up, Tone To, bool InOneVoice) : Claim;

    /// <summary>A tone is held.</summary>
    internal sealed record Held(Tone Tone) : Claim;

    /// <summary>A tone is a degree of the key: from 1, and how many semitones it is raised (lowered: negative).</summary>
    internal sealed record IsDegree(Tone Tone, int Degree, int Alteration) : Claim;

    /// <summary>A tone is the leading tone of the key, or of a degree that a numeral names.</summary>
    internal sealed record Leads(Tone Tone, string? To) : Claim;

    /// <summary>Chords that follow, by numeral, in order and the last of them the goal.</summary>
    internal sealed record Follow(IReadOnlyList<string> Numerals) : Claim;

    /// <summary>The chord's root lies so many semitones above that of the row before or after it, both named by their numerals.</summary>
    internal sealed record Thirds(string Own, string Beside, int Semitones, bool IsBefore) : Claim;

    /// <summary>
    /// A tone sounds through the whole chord, is no tone of it, and is a degree (<c>1</c>, <c>b6</c>) of a key; lowest of all, where the
    /// chord is said to stand over it.
    /// </summary>
    internal sealed record Pedal(Tone Tone, bool IsLowest, string Degree, Key Key) : Claim;

    /// <summary>The chord is no device, because fewer than three different tones sound, or because a tone is missing.</summary>
    internal sealed record NoDevice(bool HasFewTones) : Claim;
}
