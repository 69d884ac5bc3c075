using ScoreLens.Marking.PartWriting.Species;
using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>How an exercise is laid out.</summary>
public enum PartWritingStyle
{
    /// <summary>Four singers, each a voice of its own; voices may cross.</summary>
    Chorale,

    /// <summary>Chords at the keyboard: the highest notes are the soprano, the lowest the bass, the rest by their order.</summary>
    Keyboard,

    /// <summary>Two voices: a cantus firmus and a counterpoint in species, by rules of their own.</summary>
    Counterpoint,
}

/// <summary>What a voice may sing.</summary>
/// <param name="Lowest">The lowest note.</param>
/// <param name="Highest">The highest note.</param>
public sealed record VoiceRange(Pitch Lowest, Pitch Highest);

/// <summary>Which part-writing rules apply, how much each counts, and for whom the exercise is written.</summary>
public sealed record PartWritingOptions
{
    /// <summary>What a first-year course asks of a chorale-style exercise.</summary>
    public static PartWritingOptions Default { get; } = new();

    /// <summary>The style of the exercise.</summary>
    public PartWritingStyle Style { get; init; } = PartWritingStyle.Chorale;

    /// <summary>How many voices the exercise has; at least 2. Four unless said otherwise, two in counterpoint.</summary>
    public int VoiceCount { get; init; } = 4;

    /// <summary>The species of a counterpoint, 1 to 4: note against note, two notes, four notes, syncopation.</summary>
    public int Species { get; init; } = 1;

    /// <summary>Whether the cantus firmus of a counterpoint is the upper voice.</summary>
    public bool IsCantusUpper { get; init; }

    /// <summary>The rules that exercises of this style are judged by, in the order in which feedback names them.</summary>
    public IReadOnlyList<PartWritingRule> Rules => Style == PartWritingStyle.Counterpoint ? SpeciesRules.All : PartWritingRules.All;

    /// <summary>
    /// Weights by the rule's name, where they differ from <see cref="PartWritingRule.Weight"/>; 0 turns a rule off, above 0 on.
    /// </summary>
    public IReadOnlyDictionary<string, double> Weights { get; init; } = new Dictionary<string, double>();

    /// <summary>
    /// What soprano, alto, tenor and bass may sing, the highest first. Empty takes the usual ranges in chorale style and none
    /// in keyboard style.
    /// </summary>
    public IReadOnlyList<VoiceRange> Ranges { get; init; } = [];

    /// <summary>
    /// Whether a direct fifth or octave is a fault also where the soprano moves by step, as stricter handbooks have it. The
    /// bass moving a fourth or fifth under such a step, and horn fifths where <see cref="HornFifths"/> allows them, stay allowed.
    /// </summary>
    public bool StrictDirectMotion { get; init; }

    /// <summary>
    /// Whether horn fifths (sixth, fifth, third over the degrees 1, 2, 3) are allowed under <see cref="StrictDirectMotion"/>.
    /// </summary>
    public bool HornFifths { get; init; } = true;

    /// <summary>Whether rules about motion also hold from the end of one phrase (fermata, double bar) to the start of the next.</summary>
    public bool AcrossPhrases { get; init; }

    /// <summary>These options with another weight for one rule; 0 turns it off.</summary>
    /// <exception cref="ArgumentException">There is no rule of that name.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The weight is below 0.</exception>
    public PartWritingOptions With(string rule, double weight)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(weight);
        if (!Rules.Any(r => r.Name == rule)) throw new ArgumentException($"There is no part-writing rule '{rule}'.",
            nameof(rule));
        return this with { Weights = new Dictionary<string, double>(Weights) { [rule] = weight } };
    }

    /// <summary>How much a fault against a rule counts; 0 where the rule is off.</summary>
    public double WeightOf(PartWritingRule rule)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return Weights.TryGetValue(rule.Name, out var weight) ? weight : rule.IsOnByDefault ? rule.Weight : 0;
    }

    /// <summary>The ranges in force, the highest voice first; empty where none are asked.</summary>
    internal IReadOnlyList<VoiceRange> RangesInForce => Ranges.Count > 0 ? Ranges : Style == PartWritingStyle.Chorale ? UsualRanges : [];

    // Kostka and Payne, Tonal Harmony, and Laitz, The Complete Musician, together, from memory: the wider of the two each time.
    internal static IReadOnlyList<VoiceRange> UsualRanges { get; } =
    [
        new(Of('C', 4), Of('A', 5)),
        new(Of('F', 3), Of('D', 5)),
        new(Of('B', 2), Of('A', 4)),
        new(Of('D', 2), Of('E', 4)),
    ];

    private static Pitch Of(char letter, int octave) => new(Tone.Of(letter), octave);
}
