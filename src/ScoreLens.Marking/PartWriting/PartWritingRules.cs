using ScoreLens.Marking.PartWriting.Rules;
using ScoreLens.Marking.PartWriting.Species;

namespace ScoreLens.Marking.PartWriting;

/// <summary>The part-writing rules.</summary>
public static class PartWritingRules
{
    /// <summary>Every rule of part-writing in chords, in the order in which feedback names them.</summary>
    public static IReadOnlyList<PartWritingRule> All { get; } =
    [
        new ParallelFifths(),
        new ParallelOctaves(),
        new ParallelUnisons(),
        new FifthsByContraryMotion(),
        new OctavesByContraryMotion(),
        new FifthsAroundNonChordNote(),
        new OctavesAroundNonChordNote(),
        new DirectFifths(),
        new DirectOctaves(),
        new DiminishedToPerfectFifth(),
        new VoiceCrossing(),
        new VoiceOverlap(),
        new Spacing(),
        new VoiceRangeLeft(),
        new DoubledLeadingTone(),
        new LeadingToneUnresolved(),
        new SeventhUnresolved(),
        new DoubledSeventh(),
        new AugmentedSixthNotOutward(),
        new NeapolitanSecondNotFalling(),
        new MelodicAugmentedSecond(),
        new MelodicTritone(),
        new UnresolvedLeap(),
        new MissingThird(),
        new SixFourOutOfPlace(),
        new Doubling(),
    ];

    /// <summary>The rule of a name, or null.</summary>
    public static PartWritingRule? Find(string name) => All.FirstOrDefault(r => r.Name == name);

    /// <summary>The rule of a kind of remark, of counterpoint too, or null.</summary>
    public static PartWritingRule? Find(RemarkKind kind) => All.Concat(SpeciesRules.All).FirstOrDefault(r => r.Kind == kind);
}
