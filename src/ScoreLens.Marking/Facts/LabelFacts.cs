using ScoreLens.Marking.Labels;

namespace ScoreLens.Marking.Facts;

/// <summary>Why two labels that are written differently mean the same.</summary>
internal enum Equivalence
{
    /// <summary>They are written the same, or the difference needs no word.</summary>
    None,

    /// <summary>The keys are one key, spelled differently.</summary>
    RespelledKey,

    /// <summary>One chord in two keys.</summary>
    SameChordInOtherKey,

    /// <summary>The expected one also says where the chord leads.</summary>
    ExpectedSaysTarget,

    /// <summary>Two ways to write one chord.</summary>
    OtherWriting,

    /// <summary>The six-four and its dominant, labelled apart, are together the dominant that was expected.</summary>
    SixFourAndDominant,

    /// <summary>Triad and seventh chord on one root, where the seventh sounds during a part of the chord only.</summary>
    SeventhInPart,

    /// <summary>Two inversions of one chord whose bass moves, each where it stands.</summary>
    MovingBass,

    /// <summary>The chord here leads by step into the one that the label names.</summary>
    Delayed,

    /// <summary>No smaller share of the notes belongs to the label than to the expected one, while the label holds.</summary>
    AccountsAsWell,
}

/// <summary>A label and what was expected in its place.</summary>
/// <param name="Written">The label as the student wrote it; empty where none is written.</param>
/// <param name="Meaning">What it was taken to mean; null where it cannot be read or nothing is written.</param>
/// <param name="Expected">What was expected; null where no chord sounds.</param>
/// <param name="Right">Which parts are right.</param>
/// <param name="IsHidden">Whether the student is not to see what was expected.</param>
internal sealed record LabelFacts(string Written, LabelMeaning? Meaning, LabelMeaning? Expected, LabelParts Right, bool IsHidden)
    : RemarkFacts
{
    /// <summary>The notation that the label is written in.</summary>
    public LabelNotations Notation { get; init; } = LabelNotations.Numerals;

    /// <summary>What sounds while the expected chord lasts, by which every statement about notes is checked.</summary>
    public SoundingTones Sounding { get; init; } = SoundingTones.None;

    /// <summary>Why the label means what was expected.</summary>
    public Equivalence Equivalence { get; init; }

    /// <summary>How probable the student's reading is, 0..1.</summary>
    public double Probability { get; init; }

    /// <summary>How probable the expected reading is, 0..1.</summary>
    public double ExpectedProbability { get; init; }
}
