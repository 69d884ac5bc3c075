using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Theory;

namespace ScoreLens.Reharmonising;

/// <summary>A chord that could stand in the place of another.</summary>
/// <param name="Rank">Place in the list of its chord, from 1, the best first.</param>
/// <param name="Key">The key of the chord that it would replace.</param>
/// <param name="Numeral">Its numeral in that key.</param>
/// <param name="Device">The device that it is there; null where it is diatonic.</param>
/// <param name="CommonTones">Tones kept from the chord before, plus tones kept into the chord after; by sound.</param>
/// <param name="Semitones">Least motion of four voices from the chord before and to the chord after, in semitones.</param>
/// <param name="Balance">What it does to the balance.</param>
/// <param name="Score">How well it fits, 0..1: melody, continuation, smoothness and balance together, see docs/reharmonising.md.</param>
/// <param name="Reason">One sentence: where it goes, and what of the melody it carries.</param>
/// <param name="Rewriting">The notes that would change, or what stands in the way of writing it into the score.</param>
/// <param name="ReadBack">What is read where it is written into the score; null where it cannot be written.</param>
public sealed record Alternative(
    int Rank,
    Key Key,
    Numeral Numeral,
    Device? Device,
    int CommonTones,
    int Semitones,
    BalanceChange Balance,
    double Score,
    string Reason,
    Rewriting Rewriting,
    ReadBack? ReadBack = null)
{
    /// <summary>
    /// How often experts have this chord at places like this one, 0..1, among all the chords of the music learned from; chords outside the
    /// key weigh as much in it as those of the key.
    /// </summary>
    public double Experts { get; init; }

    /// <summary>How the device goes on there; none where there is no device or it may go on freely.</summary>
    public Resolution Resolution { get; init; }

    /// <summary>Whether it goes on as a chord of its kind is expected to.</summary>
    public bool GoesOn => Resolution is Resolution.None or Resolution.Resolved;

    /// <summary>Whether it can be written into the score and is then read as what it is offered as.</summary>
    public bool IsKept => ReadBack is { IsKept: true };

    /// <summary>The chord symbol.</summary>
    public ChordName Symbol => ChordName.Of(Key, Numeral);
}

/// <summary>Shares of time outside the local key, 0..1, before and after a chord is replaced.</summary>
/// <param name="PhraseBefore">Of the phrase as it is; 0 where the chord is in no phrase.</param>
/// <param name="PhraseAfter">Of the phrase with the other chord.</param>
/// <param name="CueBefore">Of the whole cue as it is.</param>
/// <param name="CueAfter">Of the whole cue with the other chord.</param>
/// <param name="Verdict">The phrase with the other chord, against the band.</param>
public sealed record BalanceChange(Fraction PhraseBefore, Fraction PhraseAfter, Fraction CueBefore, Fraction CueAfter, Verdict Verdict);
