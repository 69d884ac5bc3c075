namespace ScoreLens.Marking.Decisions;

/// <summary>What a teacher has done with a remark.</summary>
public enum RemarkState
{
    /// <summary>Nothing.</summary>
    Open,

    /// <summary>Struck out: it costs nothing and the student does not see it.</summary>
    Struck,

    /// <summary>Signed off as it is.</summary>
    SignedOff,
}

/// <summary>A row of the table of remarks as a teacher hands it back.</summary>
/// <param name="Submission">Whose work.</param>
/// <param name="Measure">The measure's printed number; empty for the whole piece.</param>
/// <param name="Beat">The beat as it stands in the table; empty for the whole piece.</param>
/// <param name="Voices">The voices, as they stand in the table.</param>
/// <param name="Rule">The name of the kind of remark; of a remark of the teacher's own a criterion, or empty.</param>
/// <param name="Points">What it costs.</param>
/// <param name="Text">What is said.</param>
/// <param name="Comment">What the teacher adds.</param>
/// <param name="State">Struck out, signed off, or neither.</param>
/// <param name="ProposedPoints">What the program proposed; null for a remark of the teacher's own.</param>
/// <param name="ProposedText">What the program said.</param>
/// <param name="Line">The line of the table, from 1.</param>
public sealed record RemarkDecision(
    string Submission,
    string Measure,
    string Beat,
    string Voices,
    string Rule,
    double Points,
    string Text,
    string Comment,
    RemarkState State,
    double? ProposedPoints,
    string ProposedText,
    int Line)
{
    /// <summary>Whether the remark is the teacher's own: the program proposed nothing in this row.</summary>
    public bool IsOwn => ProposedPoints is null && ProposedText.Length == 0;

    /// <summary>Whether anything was decided.</summary>
    public bool IsDecided => IsOwn || State != RemarkState.Open || Comment.Length > 0 || HasOtherPoints || HasOtherText;

    /// <summary>Whether the points were changed.</summary>
    public bool HasOtherPoints => ProposedPoints is { } proposed && Math.Abs(proposed - Points) > 0.005;

    /// <summary>Whether the text was changed.</summary>
    public bool HasOtherText => !IsOwn && Text != ProposedText;
}
