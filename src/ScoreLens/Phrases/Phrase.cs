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

/// <summary>The names of cadences in tables.</summary>
public static class CadenceNames
{
    /// <summary><c>PAC</c>, <c>IAC</c>, <c>HC</c>, <c>DC</c> or <c>PC</c>; empty where there is none.</summary>
    public static string Name(this Cadence cadence) => cadence switch
    {
        Cadence.None => "",
        Cadence.PerfectAuthentic => "PAC",
        Cadence.ImperfectAuthentic => "IAC",
        Cadence.Half => "HC",
        Cadence.Deceptive => "DC",
        Cadence.Plagal => "PC",
        _ => throw new ArgumentOutOfRangeException(nameof(cadence), cadence, "Unknown cadence."),
    };
}
