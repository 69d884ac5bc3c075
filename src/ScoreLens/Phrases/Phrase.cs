using ScoreLens.Theory;

namespace ScoreLens.Phrases;

/// <summary>How a phrase ends.</summary>
public enum Cadence
{
    /// <summary>No cadence.</summary>
    None,

    /// <summary>Perfect authentic: V to I, both in root position, the tonic on top.</summary>
    PerfectAuthentic,

    /// <summary>Imperfect authentic.</summary>
    ImperfectAuthentic,

    /// <summary>Half: the phrase ends on V.</summary>
    Half,

    /// <summary>Deceptive: V goes elsewhere than to I.</summary>
    Deceptive,

    /// <summary>Plagal: IV to I.</summary>
    Plagal,
}

/// <summary>A phrase.</summary>
/// <param name="Number">Place in the score, from 1.</param>
/// <param name="Start">Quarter notes from the start of the score; a pickup belongs to the phrase that it opens.</param>
/// <param name="End">Where it ends, which is where the next one starts.</param>
/// <param name="Key">The key in which it ends.</param>
/// <param name="Cadence">How it ends.</param>
public sealed record Phrase(int Number, Fraction Start, Fraction End, Key Key, Cadence Cadence);
