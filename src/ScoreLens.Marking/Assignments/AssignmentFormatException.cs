namespace ScoreLens.Marking.Assignments;

/// <summary>An assignment file does not say what it should. Every problem is listed, not only the first.</summary>
public sealed class AssignmentFormatException(IReadOnlyList<AssignmentProblem> problems)
    : Exception(string.Join(Environment.NewLine, problems))
{
    /// <summary>What is wrong, by line.</summary>
    public IReadOnlyList<AssignmentProblem> Problems { get; } = problems;
}

/// <summary>One thing that is wrong in an assignment file.</summary>
/// <param name="Line">The line, from 1.</param>
/// <param name="Message">What is wrong and what to do.</param>
public sealed record AssignmentProblem(long Line, string Message)
{
    /// <summary><c>line 4: …</c>.</summary>
    public override string ToString() => $"line {Line}: {Message}";
}
