namespace ScoreLens.Marking.Facts;

/// <summary>A remark of the teacher's own.</summary>
internal sealed record TeacherFacts(Criterion Criterion, string Text) : RemarkFacts;
