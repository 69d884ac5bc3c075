using ScoreLens.Marking.PartWriting.Rules;

namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>The rules of two-part counterpoint: those of the species, and of the others those that hold for any two voices.</summary>
internal static class SpeciesRules
{
    /// <summary>Every rule, in the order in which feedback names them.</summary>
    public static IReadOnlyList<PartWritingRule> All { get; } =
    [
        new ParallelFifths(),
        new ParallelOctaves(),
        new ParallelUnisons(),
        new VoiceCrossing(),
        new CounterpointRhythm(),
        new CounterpointDissonance(),
        new CounterpointOpening(),
        new CounterpointCadence(),
        new CounterpointUnison(),
        new CounterpointDirectMotion(),
        new CounterpointStrongBeats(),
        new CounterpointLeap(),
        new CounterpointRepetition(),
        new CounterpointClimax(),
        new CounterpointRun(),
    ];
}
