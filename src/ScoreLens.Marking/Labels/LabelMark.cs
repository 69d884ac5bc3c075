using ScoreLens.Theory;

namespace ScoreLens.Marking.Labels;

/// <summary>How one label, or one missing label, was marked: a line of the feedback.</summary>
/// <param name="Onset">Where the chord begins, in quarter notes from the start of the score.</param>
/// <param name="Place">The place in words.</param>
/// <param name="Expected">The expected label in the form for scores, with its key; empty where none belongs.</param>
/// <param name="Written">What the student wrote; empty where nothing is written.</param>
/// <param name="Lost">Share of one label's worth that is lost, 0..1.</param>
/// <param name="Remark">What is said of it; null for a right answer.</param>
public sealed record LabelMark(Fraction Onset, string Place, string Expected, string Written, double Lost, Remark? Remark)
{
    /// <summary>Whether it is a mistake made before and carried forward, which costs nothing again.</summary>
    public bool IsCarried { get; init; }

    /// <summary>The key that is expected; null where no label belongs.</summary>
    internal Key? Key { get; init; }
}

/// <summary>The labels of one submission, marked.</summary>
/// <param name="Marks">A line a label, in the order of the score.</param>
/// <param name="Demanded">How many labels the points are shared among.</param>
/// <param name="Written">How many labels the student wrote.</param>
public sealed record LabelMarks(IReadOnlyList<LabelMark> Marks, int Demanded, int Written);
